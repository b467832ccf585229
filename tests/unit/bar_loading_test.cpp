#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <set>
#include <utility>
#include <vector>

#include "backplan/prescription.hpp"

namespace backplan {
namespace {

Equipment bar(double pounds, std::vector<double> plates) {
  Equipment equipment;
  equipment.bar_lb = pounds;
  equipment.plates_lb = std::move(plates);
  return equipment;
}

double load(double wanted, double cap, const Equipment& equipment) {
  return loadable(Pounds(wanted), Pounds(cap), equipment).value();
}

// Every load by trying all subsets of pairs: the slow way.
std::set<double> every_load(const Equipment& equipment) {
  std::multiset<double> left(equipment.plates_lb.begin(), equipment.plates_lb.end());
  std::vector<double> pairs;
  while (!left.empty()) {
    const double plate = *left.begin();
    left.erase(left.begin());
    const auto twin = left.find(plate);
    if (twin == left.end()) continue;
    left.erase(twin);
    pairs.push_back(plate);
  }
  std::set<double> loads;
  for (unsigned mask = 0; mask < (1U << pairs.size()); ++mask) {
    double sum = equipment.bar_lb;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      if ((mask >> i & 1U) != 0) sum += 2.0 * pairs[i];
    }
    loads.insert(sum);
  }
  return loads;
}

const Equipment kUsual = bar(60, {45, 45, 45, 45, 35, 35, 25, 25, 10, 10, 10, 10, 5, 5});

TEST(Loadable, RoundsDownToWhatThePlatesMake) {
  EXPECT_EQ(load(176, 900, kUsual), 170.0);
  EXPECT_EQ(load(170, 900, kUsual), 170.0);
}

TEST(Loadable, RoundsUpOnlyWithinTwoPercentAndTheCap) {
  EXPECT_EQ(load(188, 900, kUsual), 190.0);
  EXPECT_EQ(load(188, 189, kUsual), 180.0);
  EXPECT_EQ(load(186, 900, kUsual), 180.0);  // 190 is 2.2 % above
  EXPECT_EQ(load(202.5, 900, bar(60, {45, 45, 25, 25, 2.5, 2.5})), 200.0) << "down where 205 is as near";
}

TEST(Loadable, UsesEqualPlatesInPairsOnly) {
  EXPECT_EQ(load(200, 900, bar(60, {45, 35})), 60.0);
  EXPECT_EQ(load(200, 900, bar(60, {45, 45, 45, 35})), 150.0);
  EXPECT_EQ(load(200, 900, bar(45, {2.5, 2.5})), 50.0);
}

TEST(Loadable, IsNeverLessThanTheEmptyBar) {
  EXPECT_EQ(load(40, 50, kUsual), 60.0);
  EXPECT_EQ(load(400, 900, bar(60, {})), 60.0);
}

TEST(Loadable, KeepsQuarterPoundsExact) {
  EXPECT_EQ(load(62.5, 62.5, bar(60, {1.25, 1.25})), 62.5);
  EXPECT_EQ(load(62.49, 62.49, bar(60, {1.25, 1.25})), 60.0);
}

TEST(Loadable, AgreesWithTryingEverySubsetOfPairs) {
  const std::vector<Equipment> sets = {kUsual, bar(60, {45, 45, 25, 25, 10, 10}), bar(45, {45, 45, 2.5, 2.5}),
                                       bar(60, {}), bar(55.1, {44.1, 44.1, 22, 22, 11, 11})};
  for (const Equipment& equipment : sets) {
    const std::set<double> loads = every_load(equipment);
    for (int step = 0; step < 130; ++step) {
      const double wanted = 40.0 + 3.7 * step;  // up to more than all the plates
      for (const double cap : {wanted - 10.0, wanted, wanted * 1.01, wanted + 100.0}) {
        SCOPED_TRACE(testing::Message() << "wanted " << wanted << ", cap " << cap);
        const double got = load(wanted, cap, equipment);
        double below = equipment.bar_lb;
        for (const double each : loads) {
          if (each <= std::min(wanted, cap) + 1e-9) below = std::max(below, each);
        }
        bool can_be_made = false;
        for (const double each : loads) can_be_made = can_be_made || std::abs(each - got) < 1e-9;
        EXPECT_TRUE(can_be_made) << got;
        EXPECT_GE(got, below - 1e-9);
        if (got > below + 1e-9) {
          EXPECT_LE(got, cap + 1e-9);
          EXPECT_LE(got, wanted * 1.02 + 1e-9);
        }
      }
    }
  }
}

}  // namespace
}  // namespace backplan

#include "backplan/lanes.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <limits>

#include "backplan/prescription.hpp"
#include "core/bar_loading.hpp"
#include "support/random_source.hpp"

namespace backplan {
namespace {

Equipment kit(std::vector<double> plates) {
  Equipment equipment;
  equipment.bar_lb = 60.0;
  equipment.plates_lb = std::move(plates);
  return equipment;
}

const std::vector<double> kPlates{45, 45, 45, 45, 45, 45, 45, 45, 25, 25, 25, 25, 10, 10, 10, 10, 5, 5, 5, 5};

std::vector<Pounds> rising(const std::vector<double>& loads) {
  std::vector<Pounds> out;
  for (const double load : loads) out.emplace_back(load);
  std::sort(out.begin(), out.end());
  return out;
}

int moves_of(const std::vector<Pounds>& loads, const std::vector<std::size_t>& sizes,
             const Equipment& equipment) {
  int moves = 0;
  std::size_t from = 0;
  for (const std::size_t size : sizes) {
    const auto begin = loads.begin() + static_cast<std::ptrdiff_t>(from);
    moves += round_moves({begin, begin + static_cast<std::ptrdiff_t>(size)}, equipment);
    from += size;
  }
  return moves;
}

// The fewest moves of all cuts, one after the other.
int counted_out(const std::vector<Pounds>& loads, std::size_t lanes, std::size_t most,
                const Equipment& equipment) {
  int best = std::numeric_limits<int>::max();
  std::vector<std::size_t> sizes;
  const std::function<void(std::size_t)> cut = [&](std::size_t left) {
    if (left == 0) best = std::min(best, moves_of(loads, sizes, equipment));
    if (left == 0 || sizes.size() == lanes) return;
    for (std::size_t size = 1; size <= std::min(left, most); ++size) {
      sizes.push_back(size);
      cut(left - size);
      sizes.pop_back();
    }
  };
  cut(loads.size());
  return best;
}

TEST(Lanes, CutTheLoadsWithTheFewestPlateChangesOfAllCuts) {
  const Equipment equipment = kit(kPlates);
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    testing::RandomSource random(seed);
    std::vector<double> loads;
    const int people = random.integer(1, 9);
    for (int i = 0; i < people; ++i) loads.push_back(60.0 + 10.0 * random.integer(0, 18));
    const std::vector<Pounds> sorted = rising(loads);
    const auto lanes = static_cast<std::size_t>(random.integer(1, 4));
    const auto cut = cut_lanes(sorted, lanes, 4, equipment);
    if (sorted.size() > lanes * 4) {
      EXPECT_FALSE(cut) << "seed " << seed;
      continue;
    }
    ASSERT_TRUE(cut) << "seed " << seed;
    EXPECT_EQ(cut->moves, counted_out(sorted, lanes, 4, equipment)) << "seed " << seed;
    EXPECT_EQ(cut->moves, moves_of(sorted, cut->sizes, equipment)) << "seed " << seed;
    std::size_t all = 0;
    for (const std::size_t size : cut->sizes) {
      EXPECT_LE(size, 4U);
      all += size;
    }
    EXPECT_EQ(all, sorted.size());
  }
}

TEST(Lanes, PutEqualLoadsOnOneBar) {
  const auto cut = cut_lanes(rising({100, 100, 200, 200}), 2, 4, kit(kPlates));
  ASSERT_TRUE(cut);
  EXPECT_EQ(cut->sizes, (std::vector<std::size_t>{2, 2}));
  EXPECT_EQ(cut->moves, 0);
}

TEST(Lanes, AreCutEvenlyWhereNoCutSavesAChange) {
  const auto cut = cut_lanes(rising({100, 100, 100, 100}), 2, 4, kit(kPlates));
  ASSERT_TRUE(cut);
  EXPECT_EQ(cut->sizes, (std::vector<std::size_t>{2, 2}));
}

TEST(Lanes, CountThePairsThatChangeBetweenTwoLoads) {
  // 60 lb bar: 150 is a 45 a side; 170 is 45 and 10; 200 is 45 and 25: the 10 comes off, a 25 goes on.
  EXPECT_EQ(plate_moves(Pounds(150), Pounds(170), kit(kPlates)), 1);
  EXPECT_EQ(plate_moves(Pounds(170), Pounds(200), kit(kPlates)), 2);
  EXPECT_EQ(plate_moves(Pounds(200), Pounds(200), kit(kPlates)), 0);
}

TEST(Lanes, DealPlatesSoThatNoPairIsOnTwoBars) {
  const Equipment equipment = kit({45, 45, 45, 45, 10, 10, 10, 10});
  const auto dealt = deal_plates({{Pounds(150), Pounds(170)}, {Pounds(170)}}, equipment);
  ASSERT_TRUE(dealt);
  int pairs_of_45 = 0;
  for (const PlatePairs& lane : *dealt) pairs_of_45 += lane.count(45.0) > 0 ? lane.at(45.0) : 0;
  EXPECT_EQ(pairs_of_45, 2);
  EXPECT_FALSE(deal_plates({{Pounds(150)}, {Pounds(150)}, {Pounds(150)}}, equipment));
}

// 45 a side can be made without the only 45: by 25 and two tens.
TEST(Lanes, DealAnotherMixWhereTheUsualOneIsTaken) {
  const Equipment equipment = kit({45, 45, 25, 25, 10, 10, 10, 10});
  EXPECT_TRUE(deal_plates({{Pounds(150)}, {Pounds(150)}}, equipment));
}

TEST(Lanes, LowerTheHeaviestLoadsWhereThePlatesDoNotReach) {
  const Equipment equipment = kit({45, 45, 25, 25});
  const auto shared = share_bars(rising({150, 200}), 2, 1, equipment);
  ASSERT_TRUE(shared);
  EXPECT_TRUE(shared->lowered);
  ASSERT_TRUE(deal_plates(shared->loads, equipment));
  EXPECT_EQ(shared->loads[0][0], Pounds(150));
  EXPECT_EQ(shared->loads[1][0], Pounds(110));
}

// One pair each of 25, 10 and 5: one bar makes 110 and 130 lb, two bars at a time do not.
TEST(Lanes, LeaveABarUnusedWhereThePlatesServeBetterOnAnother) {
  const Equipment equipment = kit({25, 25, 10, 10, 5, 5});
  const auto shared = share_bars(rising({110, 130}), 2, 4, equipment);
  ASSERT_TRUE(shared);
  EXPECT_EQ(shared->sizes, (std::vector<std::size_t>{2}));
  EXPECT_FALSE(shared->lowered);
  EXPECT_EQ(shared->loads[0], rising({110, 130}));
}

TEST(Lanes, LowerEqualLoadsOneByOne) {
  const Equipment equipment = kit({45, 45, 25, 25, 10, 10});
  const auto shared = share_bars(rising({150, 150}), 2, 1, equipment);
  ASSERT_TRUE(shared);
  // One keeps its 45, the other has 25 and 10.
  std::vector<Pounds> loads{shared->loads[0][0], shared->loads[1][0]};
  std::sort(loads.begin(), loads.end());
  EXPECT_EQ(loads, rising({130, 150}));
}

// Against every way to deal the pairs to two bars.
TEST(Lanes, LowerAsFewLoadsAsCanBe) {
  bool some_lowered = false;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    testing::RandomSource random(seed);
    std::vector<double> plates;
    std::vector<int> have;
    const std::vector<double> kinds{45, 25, 10, 5};
    for (const double plate : kinds) {
      have.push_back(random.integer(0, 2));
      plates.insert(plates.end(), 2U * static_cast<std::size_t>(have.back()), plate);
    }
    const Equipment equipment = kit(plates);
    std::vector<Pounds> sorted;
    for (int i = 0; i < 4; ++i)
      sorted.push_back(loadable(Pounds(60.0 + 10.0 * random.integer(0, 14)), Pounds(400), equipment));
    std::sort(sorted.begin(), sorted.end());
    const std::vector<std::vector<Pounds>> lanes{{sorted[0], sorted[1]}, {sorted[2], sorted[3]}};
    int fewest = 100;
    std::vector<int> one(4, 0);
    const std::function<void(std::size_t)> deal = [&](std::size_t kind) {
      if (kind < kinds.size()) {
        for (one[kind] = 0; one[kind] <= have[kind]; ++one[kind]) deal(kind + 1);
        return;
      }
      std::vector<double> first;
      std::vector<double> second;
      for (std::size_t k = 0; k < kinds.size(); ++k) {
        first.insert(first.end(), 2U * static_cast<std::size_t>(one[k]), kinds[k]);
        second.insert(second.end(), 2U * static_cast<std::size_t>(have[k] - one[k]), kinds[k]);
      }
      int lowered = 0;
      for (const Pounds load : lanes[0]) lowered += plates_a_side(load, kit(first)) ? 0 : 1;
      for (const Pounds load : lanes[1]) lowered += plates_a_side(load, kit(second)) ? 0 : 1;
      fewest = std::min(fewest, lowered);
    };
    deal(0);
    const auto shared = share_bars(sorted, 2, 2, equipment);
    ASSERT_TRUE(shared);
    int lowered = 0;
    for (std::size_t l = 0; l < 2; ++l) {
      for (std::size_t i = 0; i < lanes[l].size(); ++i) lowered += shared->loads[l][i] < lanes[l][i] ? 1 : 0;
    }
    EXPECT_EQ(lowered, fewest) << "seed " << seed;
    EXPECT_EQ(shared->lowered, fewest > 0) << "seed " << seed;
    EXPECT_TRUE(deal_plates(shared->loads, equipment)) << "seed " << seed;
    some_lowered = some_lowered || fewest > 0;
  }
  EXPECT_TRUE(some_lowered);
}

}  // namespace
}  // namespace backplan

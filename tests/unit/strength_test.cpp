#include "backplan/strength.hpp"

#include <gtest/gtest.h>

#include <optional>

namespace backplan {
namespace {

// FM 7-22 (October 2020), paragraph 4-25: the examples printed there.
TEST(RepetitionMaxima, GiveThePrintedExamples) {
  EXPECT_NEAR(one_rep_max_from_three(Pounds(100.0)).value(), 109.9, 1e-9);  // printed as 110
  EXPECT_NEAR(one_rep_max(Pounds(250.0), 5.0).value(), 291.25, 1e-9);       // printed as 291
  // "the three-repetition maximum is 90 % of the one-repetition maximum": 150 -> 135.
  EXPECT_NEAR(three_rep_max(Pounds(150.0)).value(), 135.0, 0.02 * 135.0);
}

TEST(RepetitionMaxima, OfThreeAndOneAreInverse) {
  for (int pounds = 60; pounds <= 700; pounds += 35) {
    const double load = pounds;
    EXPECT_NEAR(three_rep_max(one_rep_max_from_three(Pounds(load))).value(), load, 1e-9);
    EXPECT_NEAR(one_rep_max(Pounds(load), 3.0).value(), one_rep_max_from_three(Pounds(load)).value(), 1e-9);
  }
}

struct ShareRow {
  int repetitions;
  double share;
};
// Share of the maximum that goes for so many repetitions, computed from the formula: 1 / (1 + 0.033 r).
constexpr ShareRow kShares[] = {
    {1, 0.9681},  {2, 0.9381},  {3, 0.9099},  {4, 0.8834},  {5, 0.8584},
    {6, 0.8347},  {7, 0.8123},  {8, 0.7911},  {9, 0.7710},  {10, 0.7519},
    {11, 0.7337}, {12, 0.7163}, {13, 0.6998}, {14, 0.6840}, {15, 0.6689},
};

TEST(RepetitionMaxima, GiveTheTableOfShares) {
  for (const ShareRow& row : kShares) {
    EXPECT_NEAR(Pounds(1.0) / one_rep_max(Pounds(1.0), row.repetitions), row.share, 0.5001e-4)
        << row.repetitions;
  }
}

struct ReserveRow {
  int repetitions;
  int reserve;
  double share;
};
// The same with repetitions in reserve: r with q left is r + q to failure (Hackett 2017 for how well
// the reserve is judged). A single with none left is the maximum itself.
constexpr ReserveRow kReserveRows[] = {
    {1, 0, 1.0000},  {1, 1, 0.9381},  {1, 2, 0.9099},  {1, 3, 0.8834},  {1, 4, 0.8584},  {2, 0, 0.9381},
    {2, 1, 0.9099},  {2, 2, 0.8834},  {2, 3, 0.8584},  {2, 4, 0.8347},  {3, 0, 0.9099},  {3, 1, 0.8834},
    {3, 2, 0.8584},  {3, 3, 0.8347},  {3, 4, 0.8123},  {4, 0, 0.8834},  {4, 1, 0.8584},  {4, 2, 0.8347},
    {4, 3, 0.8123},  {4, 4, 0.7911},  {5, 0, 0.8584},  {5, 1, 0.8347},  {5, 2, 0.8123},  {5, 3, 0.7911},
    {5, 4, 0.7710},  {6, 0, 0.8347},  {6, 1, 0.8123},  {6, 2, 0.7911},  {6, 3, 0.7710},  {6, 4, 0.7519},
    {7, 0, 0.8123},  {7, 1, 0.7911},  {7, 2, 0.7710},  {7, 3, 0.7519},  {7, 4, 0.7337},  {8, 0, 0.7911},
    {8, 1, 0.7710},  {8, 2, 0.7519},  {8, 3, 0.7337},  {8, 4, 0.7163},  {9, 0, 0.7710},  {9, 1, 0.7519},
    {9, 2, 0.7337},  {9, 3, 0.7163},  {9, 4, 0.6998},  {10, 0, 0.7519}, {10, 1, 0.7337}, {10, 2, 0.7163},
    {10, 3, 0.6998}, {10, 4, 0.6840}, {11, 0, 0.7337}, {11, 1, 0.7163}, {11, 2, 0.6998}, {11, 3, 0.6840},
    {11, 4, 0.6689}, {12, 0, 0.7163}, {12, 1, 0.6998}, {12, 2, 0.6840}, {12, 3, 0.6689}, {12, 4, 0.6545},
};

TEST(ReadSet, GivesTheTableOfRepetitionsInReserve) {
  for (const ReserveRow& row : kReserveRows) {
    SCOPED_TRACE(testing::Message() << row.repetitions << " with " << row.reserve << " in reserve");
    const auto reading = read_set({row.repetitions, Pounds(200.0), row.reserve});
    const int to_failure = row.repetitions + row.reserve;
    if (row.reserve <= 3 && to_failure <= 10) {
      ASSERT_TRUE(reading);
      EXPECT_FALSE(reading->lower_bound);
      EXPECT_NEAR(200.0 / reading->one_rep_max.value(), row.share, 0.5001e-4);
    } else {
      // The row still holds for the formula; as evidence it is a bound, or nothing.
      EXPECT_NEAR(Pounds(1.0) / one_rep_max(Pounds(1.0), to_failure), row.share, 0.5001e-4);
      EXPECT_TRUE(!reading || reading->lower_bound);
    }
  }
}

TEST(ReadSet, OfThreeToFailureIsTheThreeRepetitionMaximum) {
  const auto reading = read_set({3, Pounds(220.0), 0.0});
  ASSERT_TRUE(reading);
  EXPECT_NEAR(reading->three_rep_max.value(), 220.0, 1e-9);
  EXPECT_DOUBLE_EQ(reading->sd, 0.015);
}

TEST(ReadSet, IsLessSureTheMoreRepetitions) {
  const auto sd = [](int repetitions, double reserve) {
    return read_set({repetitions, Pounds(200.0), reserve}).value().sd;
  };
  EXPECT_DOUBLE_EQ(sd(1, 0.0), 0.015);
  EXPECT_NEAR(sd(4, 0.0), 0.0225, 1e-12);
  EXPECT_NEAR(sd(3, 2.0), 0.03, 1e-12);
  EXPECT_NEAR(sd(5, 1.5), 0.04, 1e-12);
  EXPECT_NEAR(sd(8, 0.0), 0.05, 1e-12);
  EXPECT_NEAR(sd(7, 2.0), 0.065, 1e-12);
  EXPECT_NEAR(sd(10, 0.0), 0.08, 1e-12);
}

TEST(ReadSet, OfUnknownOrLargeReserveIsALowerBoundOfTheRepetitionsDone) {
  const auto unknown = read_set({5, Pounds(155.0), std::nullopt});
  const auto plenty = read_set({5, Pounds(155.0), 4.0});
  ASSERT_TRUE(unknown && plenty);
  EXPECT_TRUE(unknown->lower_bound);
  EXPECT_TRUE(plenty->lower_bound);
  EXPECT_NEAR(unknown->one_rep_max.value(), 155.0 * 1.165, 1e-9);
  EXPECT_NEAR(plenty->one_rep_max.value(), unknown->one_rep_max.value(), 1e-12);
  EXPECT_FALSE(read_set({5, Pounds(155.0), 3.0})->lower_bound);
}

TEST(ReadSet, OfASingleNeverClaimsMoreThanWasLiftedAsABound) {
  EXPECT_DOUBLE_EQ(read_set({1, Pounds(300.0), std::nullopt})->one_rep_max.value(), 300.0);
}

TEST(ReadSet, GrowsWithTheReserve) {
  double before = 0.0;
  for (int quarters = 0; quarters <= 12; ++quarters) {
    const double reserve = quarters / 4.0;
    const double now = read_set({1, Pounds(100.0), reserve})->one_rep_max.value();
    EXPECT_GT(now, before);
    before = now;
  }
}

TEST(ReadSet, RefusesWhatSaysNothing) {
  EXPECT_FALSE(read_set({11, Pounds(100.0), 0.0}));
  EXPECT_FALSE(read_set({8, Pounds(100.0), 3.0}));
  EXPECT_FALSE(read_set({12, Pounds(100.0), std::nullopt}));
  EXPECT_FALSE(read_set({0, Pounds(100.0), 0.0}));
  EXPECT_FALSE(read_set({5, Pounds(0.0), 1.0}));
  EXPECT_FALSE(read_set({5, Pounds(100.0), -1.0}));
}

}  // namespace
}  // namespace backplan

#include "backplan/standard.hpp"

#include <gtest/gtest.h>

#include "support/standards.hpp"

namespace backplan {
namespace {

using test::day;

Scale deadlift() {
  return Scale::steps(Direction::more_is_better, 10.0,
                      {{Points::whole(80), 200.0, Origin::interpolated, "line"},
                       {Points::whole(60), 150.0, Origin::published, "paper"},
                       {Points::whole(100), 250.0, Origin::memory, "memory"}});
}

Scale run() {
  return Scale::steps(
      Direction::less_is_better, 1.0,
      {{Points::whole(60), 1200.0, Origin::memory, ""}, {Points::whole(61), 932.0, Origin::memory, ""}});
}

TEST(Scale, GivesTheLowerRowsPointsBetweenTwoRows) {
  EXPECT_EQ(deadlift().score(190.0).points, Points::whole(60));
  EXPECT_EQ(deadlift().score(190.0).origin, Origin::published);
  EXPECT_EQ(deadlift().score(200.0).points, Points::whole(80));
  EXPECT_EQ(deadlift().score(900.0).points, Points::whole(100));
}

TEST(Scale, GivesNoPointsBelowTheLowestRow) {
  EXPECT_EQ(deadlift().score(149.0).points, std::nullopt);
  EXPECT_EQ(run().score(1200.1).points, std::nullopt);
}

TEST(Scale, CountsAResultInWholeStepsOnTheHarderSide) {
  EXPECT_EQ(deadlift().score(159.9).points, Points::whole(60));
  EXPECT_EQ(round_harder(155.0, 10.0, Direction::more_is_better), 150.0);
  EXPECT_EQ(round_harder(932.4, 1.0, Direction::less_is_better), 933.0);
  EXPECT_EQ(run().score(932.4).points, Points::whole(60));
  EXPECT_EQ(run().score(932.0).points, Points::whole(61));
}

TEST(Scale, DoesNotLoseAStepToBinaryFractions) {
  for (int tenths = 1; tenths <= 250; ++tenths) {
    const double metres = tenths / 10.0;
    EXPECT_EQ(round_harder(metres, 0.1, Direction::more_is_better), metres);
    EXPECT_EQ(round_harder(tenths * 0.1, 0.1, Direction::less_is_better), metres);
  }
}

TEST(Scale, NamesTheNextRowAndTheRowForPoints) {
  EXPECT_EQ(deadlift().next_row(0.0)->points, Points::whole(60));
  EXPECT_EQ(deadlift().next_row(150.0)->result, 200.0);
  EXPECT_FALSE(deadlift().next_row(250.0).has_value());
  EXPECT_EQ(deadlift().row_for(Points::whole(61))->result, 200.0);
  EXPECT_FALSE(deadlift().row_for(Points::whole(101)).has_value());
}

TEST(Scale, KnowsWhichResultIsAtLeastAsGood) {
  EXPECT_TRUE(run().at_least(932.0, 933.0));
  EXPECT_FALSE(run().at_least(933.5, 933.0));
  EXPECT_TRUE(deadlift().at_least(151.0, 159.0));  // the same step
}

TEST(FormulaScale, RowsAreTheEasiestResultsAndStrictlyHarder) {
  // Coefficients of the decathlon's 100 m, see standard_folder_test.cpp.
  const Scale scale = Scale::formula(Direction::less_is_better, 0.01,
                                     {25.4347, 18.0, 1.81, 1.0, Points::whole(1200)}, Points::whole(1));
  ASSERT_GT(scale.rows().size(), 500U);
  for (std::size_t i = 0; i < scale.rows().size(); ++i) {
    const Row& row = scale.rows()[i];
    EXPECT_EQ(scale.score(row.result).points, row.points);
    if (i == 0) continue;
    EXPECT_LT(row.result, scale.rows()[i - 1].result);
    EXPECT_LT(*scale.score(row.result + 0.01).points, row.points);
  }
  EXPECT_EQ(scale.score(18.0).points, std::nullopt);
}

TEST(Age, CountsCompletedYears) {
  EXPECT_EQ(age_on(day(1998, 4, 17), day(2027, 4, 16)), 28);
  EXPECT_EQ(age_on(day(1998, 4, 17), day(2027, 4, 17)), 29);  // birthday on the test day
  EXPECT_EQ(age_on(day(1998, 4, 17), day(2027, 4, 18)), 29);
}

TEST(Age, OfTheTwentyNinthOfFebruaryTurnsOnTheFirstOfMarchInCommonYears) {
  EXPECT_EQ(age_on(day(2004, 2, 29), day(2027, 2, 28)), 22);
  EXPECT_EQ(age_on(day(2004, 2, 29), day(2027, 3, 1)), 23);
  EXPECT_EQ(age_on(day(2004, 2, 29), day(2028, 2, 28)), 23);
  EXPECT_EQ(age_on(day(2004, 2, 29), day(2028, 2, 29)), 24);
}

TEST(AgeBands, ChangeOnTheBirthdayAndEndAtTheLast) {
  const Standard standard = test::shipped_standard("us-army-aft");
  EXPECT_EQ(standard.band_of(16), std::nullopt);
  EXPECT_EQ(standard.band_of(17), (AgeBand{17, 21}));
  EXPECT_EQ(standard.band_of(21), (AgeBand{17, 21}));
  EXPECT_EQ(standard.band_of(22), (AgeBand{22, 26}));
  EXPECT_EQ(standard.band_of(61), (AgeBand{57, 61}));
  EXPECT_EQ(standard.band_of(99), (AgeBand{62, 99}));
  EXPECT_EQ(standard.band_of(100), std::nullopt);
  EXPECT_EQ(to_string(AgeBand{62, 99}), "62+");
}

TEST(Standard, ScoresTheCombatCategoryOnTheMaleColumn) {
  const Standard standard = test::shipped_standard("us-army-aft");
  const Event& event = *standard.find_event("MDL");
  const Scale* general = standard.scale_for(event, "female", 30, *standard.find_category("general"));
  const Scale* combat = standard.scale_for(event, "female", 30, *standard.find_category("combat"));
  EXPECT_EQ(general, &standard.scales.at({"MDL", "female", {27, 31}}));
  EXPECT_EQ(combat, &standard.scales.at({"MDL", "male", {27, 31}}));
  EXPECT_EQ(standard.scale_for(event, "female", 16, *standard.find_category("general")), nullptr);
  EXPECT_EQ(standard.find_event("SPT"), nullptr);
  EXPECT_EQ(standard.find_category("cadet"), nullptr);
}

class ShippedStandard : public testing::TestWithParam<std::string> {};

TEST_P(ShippedStandard, HasAStrictlyMonotonicScaleForEveryEventColumnAndBand) {
  const Standard standard = test::shipped_standard(GetParam());
  EXPECT_EQ(standard.scales.size(), standard.events.size() * 2U * 10U);
  for (const auto& [key, scale] : standard.scales) {
    SCOPED_TRACE(key.event + " " + key.column + " " + to_string(key.band));
    EXPECT_EQ(scale.rows().front().points, Points::whole(60));
    EXPECT_EQ(scale.rows().back().points, Points::whole(100));
    for (std::size_t i = 1; i < scale.rows().size(); ++i) {
      const Row& below = scale.rows()[i - 1];
      const Row& row = scale.rows()[i];
      EXPECT_GT(row.points, below.points);
      EXPECT_FALSE(scale.at_least(below.result, row.result));
      EXPECT_TRUE(scale.at_least(row.result, below.result));
      EXPECT_EQ(round_harder(row.result, scale.resolution(), scale.direction()), row.result);
    }
  }
}

TEST_P(ShippedStandard, NamesASourceForEveryFactAndMarksWhatIsNotKnown) {
  const Standard standard = test::shipped_standard(GetParam());
  std::size_t unknown = 0;
  for (const ProtocolFact& fact : standard.protocol) {
    EXPECT_FALSE(fact.source.empty()) << fact.topic;
    unknown += fact.value.empty() ? 1U : 0U;
  }
  EXPECT_GE(unknown, 2U);  // rest and warm-up
  for (const Category& category : standard.categories) EXPECT_FALSE(category.source.empty());
}

INSTANTIATE_TEST_SUITE_P(Both, ShippedStandard, testing::Values("us-army-aft", "us-army-acft-2022"));

TEST(ShippedStandardScale, FillsRowsOnTheHarderSideAndKeepsTheMostPointsOfAStep) {
  // Woman 17-21 of the six-event test: 120 lb for 60, 210 lb for 100, so 2.25 lb a point: 61 to 64
  // points need more than 120 lb and at most 130 (122.25 to 129), 65 points 131.25.
  const Standard standard = test::shipped_standard("us-army-acft-2022");
  const Scale& scale = standard.scales.at({"MDL", "female", {17, 21}});
  EXPECT_EQ(scale.score(120.0).points, Points::whole(60));
  EXPECT_EQ(scale.score(130.0).points, Points::whole(64));
  EXPECT_EQ(scale.score(130.0).origin, Origin::interpolated);
  EXPECT_EQ(scale.score(140.0).points, Points::whole(68));
  EXPECT_EQ(scale.score(200.0).points, Points::whole(95));
  EXPECT_EQ(scale.score(210.0).points, Points::whole(100));
  EXPECT_EQ(scale.rows().size(), 10U);
}

}  // namespace
}  // namespace backplan

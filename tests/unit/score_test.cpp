#include "backplan/score.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "support/standards.hpp"

namespace backplan {
namespace {

using test::day;

DatedResult result(const std::string& event, double value, Date date = day(2026, 12, 1)) {
  DatedResult dated;
  dated.date = date;
  dated.event = event;
  dated.value = value;
  return dated;
}

ScoreCard score_on(const Standard& standard, const std::vector<DatedResult>& results,
                   const std::string& category, const std::string& column, int age) {
  return score_results(results, standard, *standard.find_category(category), column, age);
}

// Just the minimum in each event for a woman of 27 to 31: the lowest rows of the shipped scales.
std::vector<DatedResult> bare_minimum() {
  return {result("MDL", 120), result("HRP", 11), result("SDC", 195), result("PLK", 80), result("2MR", 1365)};
}

TEST(Score, OfSixtyInEachEventIsThreeHundredAndPassesTheGeneralStandard) {
  const ScoreCard card =
      score_on(test::shipped_standard("us-army-aft"), bare_minimum(), "general", "female", 28);
  EXPECT_EQ(card.total, Points::whole(300));
  EXPECT_EQ(card.pass, true);
  EXPECT_EQ(card.column, "female");
  EXPECT_EQ(card.band, (AgeBand{27, 31}));
}

// Common practice and published pass rule of the six-event test: six times 60 is 360, 600 is the most.
TEST(Score, OfTheSixEventTestGoesFromThreeHundredAndSixtyToSixHundred) {
  const Standard standard = test::shipped_standard("us-army-acft-2022");
  for (const auto& [row, total] : {std::pair{60, 360}, std::pair{100, 600}}) {
    std::vector<DatedResult> results;
    for (const Event& event : standard.events) {
      const Scale& scale = standard.scales.at({event.id, "female", {27, 31}});
      results.push_back(result(event.id, scale.row_for(Points::whole(row))->result));
    }
    const ScoreCard card = score_on(standard, results, "general", "female", 30);
    EXPECT_EQ(card.total, Points::whole(total));
    EXPECT_EQ(card.pass, true);
  }
}

TEST(Score, OfTheCombatCategoryUsesTheMaleColumnForAWoman) {
  const Standard standard = test::shipped_standard("us-army-aft");
  std::vector<DatedResult> results = bare_minimum();
  results[0].value = 150;  // published combat minimum at 27 to 31
  const ScoreCard card = score_on(standard, results, "combat", "female", 28);
  EXPECT_EQ(card.column, "male");
  EXPECT_EQ(card.events[0].points, Points::whole(60));
  EXPECT_EQ(card.events[0].origin, Origin::published);
  EXPECT_EQ(card.events[1].points, std::nullopt);  // 11 push-ups; 14 are the published minimum
  EXPECT_EQ(card.pass, false);
  EXPECT_EQ(card.total, std::nullopt);
}

TEST(Score, BelowTheScaleFailsAndNamesTheLowestRow) {
  std::vector<DatedResult> results = bare_minimum();
  results[0].value = 119;
  const ScoreCard card = score_on(test::shipped_standard("us-army-aft"), results, "general", "female", 28);
  EXPECT_EQ(card.events[0].points, std::nullopt);
  EXPECT_EQ(card.events[0].next->result, 120.0);
  EXPECT_EQ(card.pass, false);
  ASSERT_EQ(card.reasons.size(), 1U);
  EXPECT_EQ(card.reasons[0], "MDL: 119 lb is below the lowest row of the scale, 120 lb for 60 points");
}

TEST(Score, OfAMissingEventIsOpen) {
  std::vector<DatedResult> results = bare_minimum();
  results.pop_back();
  const ScoreCard card = score_on(test::shipped_standard("us-army-aft"), results, "general", "female", 28);
  EXPECT_EQ(card.pass, std::nullopt);
  EXPECT_EQ(card.total, std::nullopt);
  EXPECT_EQ(card.events.back().result, std::nullopt);
  EXPECT_EQ(card.events.back().points, std::nullopt);
  EXPECT_EQ(card.reasons, std::vector<std::string>{"2MR: no result yet"});
}

TEST(Score, TakesTheLatestResultAndTheBetterOfOneDayInAnyOrder) {
  const Standard standard = test::shipped_standard("us-army-aft");
  std::vector<DatedResult> results = bare_minimum();
  results.push_back(result("MDL", 200, day(2026, 11, 1)));
  results.push_back(result("2MR", 1200, day(2026, 12, 2)));
  results.push_back(result("2MR", 1300, day(2026, 12, 2)));
  for (int turn = 0; turn < 2; ++turn) {
    const ScoreCard card = score_on(standard, results, "general", "female", 28);
    EXPECT_EQ(card.events[0].result, 120.0);
    EXPECT_EQ(card.events[4].result, 1200.0);
    std::reverse(results.begin(), results.end());
  }
}

TEST(Total, IsASumAWeightedSumOrAMeanAndNeverRoundedUp) {
  Standard standard;
  const std::vector<std::pair<std::string, Points>> points{
      {"a", Points::whole(85)}, {"b", Points::whole(65)}, {"c", Points::whole(55)}};
  EXPECT_EQ(total_of(standard, points), Points::whole(205));
  standard.total = TotalKind::weighted;
  standard.weights = {{"a", 0.6}, {"b", 0.2}, {"c", 0.2}};
  EXPECT_EQ(total_of(standard, points), Points::whole(75));  // 51 + 13 + 11
  standard.weights["a"] = 0.61;
  EXPECT_EQ(total_of(standard, points), Points::from_tenths(758));  // 51.85 + 13 + 11
  // Published worked case of a Navy page: 85, 65 and 55 are 205, a mean of 68 when cut to whole points.
  standard.total = TotalKind::mean;
  EXPECT_EQ(total_of(standard, points), Points::from_tenths(683));
}

TEST(Result, IsPrintedAsPeopleWriteIt) {
  EXPECT_EQ(format_result(932, Unit::second), "15:32");
  EXPECT_EQ(format_result(3750, Unit::second), "1:02:30");
  EXPECT_EQ(format_result(59, Unit::second), "0:59");
  EXPECT_EQ(format_result(10.55, Unit::second), "10.55 s");
  EXPECT_EQ(format_result(59.999, Unit::second), "1:00");
  EXPECT_EQ(format_result(220, Unit::pound), "220 lb");
  EXPECT_EQ(format_result(41, Unit::repetition), "41");
  EXPECT_EQ(format_result(8.4, Unit::metre), "8.4 m");
  EXPECT_EQ(format_result(100, Unit::kilogram), "100 kg");
  EXPECT_EQ(format_result(1, Unit::go), "go");
}

// Where the clock is read to a hundredth, as in a sprint, every line of a list has two decimals.
TEST(Result, HasAllTheDecimalsThatItsEventIsTimedTo) {
  Event event;
  event.unit = Unit::second;
  event.resolution = 0.01;
  EXPECT_EQ(format_result(16, event), "16.00 s");
  EXPECT_EQ(format_result(16.66, event), "16.66 s");
  EXPECT_EQ(format_result(272.4, event), "4:32.40");
  event.resolution = 0.1;
  EXPECT_EQ(format_result(16, event), "16.0 s");
  event.resolution = 1;
  EXPECT_EQ(format_result(59, event), "0:59");
}

}  // namespace
}  // namespace backplan

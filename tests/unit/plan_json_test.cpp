#include "io/plan_json.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <string>

#include "io/estimate_text.hpp"
#include "io/score_json.hpp"
#include "support/small_plan.hpp"
#include "support/small_standard.hpp"
#include "support/text.hpp"

namespace backplan::io {
namespace {

using support::replaced;
using support::small_plan;
using support::small_standard;

std::string written(const Plan& plan) { return write_plan(plan, small_standard(), "0.1.0"); }

TEST(PlanJson, WritingWhatWasReadGivesTheSameBytes) {
  const std::string bytes = written(small_plan());
  const auto plan = read_plan(bytes, "plan.json");
  ASSERT_TRUE(plan.ok()) << to_string(plan.faults().front());
  EXPECT_EQ(written(plan.value()), bytes);
}

TEST(PlanJson, WritingAnEmptyPlanThatWasReadGivesTheSameBytes) {
  const std::string bytes = written(Plan{});
  const auto plan = read_plan(bytes, "plan.json");
  ASSERT_TRUE(plan.ok()) << to_string(plan.faults().front());
  EXPECT_EQ(written(plan.value()), bytes);
}

TEST(PlanJson, KeepsWhatTheScreensNeed) {
  const auto read = read_plan(written(small_plan()), "plan.json");
  ASSERT_TRUE(read.ok());
  const Plan& plan = read.value();
  EXPECT_EQ(plan.candidate, "A-07");
  EXPECT_EQ(plan.target.events.at("2MR"), Points::from_tenths(705));
  EXPECT_EQ(plan.outlook.events.at(0).now_origin, Origin::interpolated);
  EXPECT_FALSE(plan.outlook.events.at(1).now_result);
  EXPECT_FALSE(plan.outlook.events.at(1).measured);
  ASSERT_EQ(plan.weeks.size(), 2U);
  EXPECT_EQ(plan.weeks[1].phase, Phase::taper);
  EXPECT_TRUE(plan.weeks[1].provisional);
  const PlannedDay& day = plan.weeks[0].days.at(0);
  EXPECT_EQ(day.blocks.at(0).load, Pounds(155));
  EXPECT_EQ(day.blocks.at(1).size, BlockSize::home);
  EXPECT_TRUE(day.blocks.at(1).rehearsal);
  EXPECT_EQ(plan.weeks[0].days.at(1).fixed_minutes, 120);
  ASSERT_TRUE(plan.ways_out);
  EXPECT_EQ(plan.ways_out->minutes_per_week, 320);
  EXPECT_EQ(plan.ways_out->last_date_tried, small_plan().ways_out->last_date_tried);
  EXPECT_EQ(plan.ways_out->most_minutes_tried, 390);
  EXPECT_EQ(plan.ways_out->tried, std::vector<std::string>{"longer days"});
  EXPECT_TRUE(plan.outlook.events.at(0).now_differs);
  EXPECT_EQ(plan.assumptions.at(1).status, Status::common_practice);
}

// The keys that the design of plan.json promises, in their order.
TEST(PlanJson, HasTheStableKeys) {
  const Json json = Json::parse(written(small_plan()));
  std::vector<std::string> keys;
  for (const auto& [key, value] : json.items()) keys.push_back(key);
  EXPECT_EQ(keys, (std::vector<std::string>{
                      "format",           "tool_version", "as_of",     "standard",   "model",  "candidate",
                      "category",         "age",          "test_date", "target",     "enough", "outlook",
                      "without_training", "yield",        "time",      "optimality", "weeks",  "ways_out",
                      "given_up",         "refused",      "cautions",  "assumptions"}));
  EXPECT_EQ(json["outlook"]["events"][0]["test_day"]["result"], 184.26);
  EXPECT_EQ(json["outlook"]["events"][0]["test_day"]["text"], "184 lb");
  EXPECT_EQ(json["outlook"]["p_pass"], 0.4123);
  EXPECT_EQ(json["optimality"]["value"], 198.1235);
  EXPECT_EQ(json["weeks"][0]["milestones"]["2MR"], 1345);
  EXPECT_EQ(json["time"]["least_minutes_for_target"], nullptr);
}

TEST(PlanJson, LeavesWaysOutAwayWhenTheAnswerIsYes) {
  Plan plan = small_plan();
  plan.ways_out.reset();
  EXPECT_FALSE(Json::parse(written(plan)).contains("ways_out"));
}

TEST(PlanJson, RefusesAnotherFormatAndSaysWhatToDo) {
  const auto read =
      read_plan(replaced(written(small_plan()), "backplan-plan/1", "backplan-plan/2"), "plan.json");
  ASSERT_FALSE(read.ok());
  ASSERT_EQ(read.faults().size(), 1U);
  EXPECT_EQ(to_string(read.faults().front()),
            "plan.json:2:13: error: this plan has the format \"backplan-plan/2\"; this program reads "
            "\"backplan-plan/1\" (at /format)\nhint: run `backplan plan` to write it anew");
}

TEST(PlanJson, TellsAllFaultsOfAPlanThatWasEditedByHand) {
  std::string text = replaced(written(small_plan()), "\"build\"", "\"bild\"");
  text = replaced(text, "\"as_of\": \"2027-02-22\"", "\"as_of\": \"22 Feb\"");
  const auto read = read_plan(text, "plan.json");
  ASSERT_FALSE(read.ok());
  EXPECT_EQ(read.faults().size(), 2U);
}

TEST(PlanJson, RefusesPointsThatNoScaleCouldHold) {
  const auto plan =
      read_plan(replaced(written(small_plan()), "\"2MR\": 70.5", "\"2MR\": 999999999999"), "plan.json");
  ASSERT_FALSE(plan.ok());
  EXPECT_NE(to_string(plan.faults().front()).find("1000000"), std::string::npos)
      << plan.faults().front().message;
}

TEST(PlanJson, DoesNotMindKeysOfALaterVersion) {
  const std::string text = replaced(written(small_plan()), "\"enough\"", "\"later\": [1],\n  \"enough\"");
  EXPECT_TRUE(read_plan(text, "plan.json").ok());
}

TEST(Rounded, NeverWritesNaN) {
  EXPECT_THROW((void)rounded(std::numeric_limits<double>::quiet_NaN(), 2), std::logic_error);
  EXPECT_THROW((void)rounded(std::numeric_limits<double>::infinity(), 2), std::logic_error);
  Plan plan = small_plan();
  plan.outlook.p_pass = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW((void)written(plan), std::logic_error);
}

TEST(Rounded, RoundsOnceAndDropsTheSignOfNothing) {
  EXPECT_EQ(rounded(1.005, 1).dump(), "1");
  EXPECT_EQ(rounded(0.125, 2).dump(), "0.13");
  EXPECT_EQ(rounded(-0.001, 2).dump(), "0");
  EXPECT_EQ(rounded(932.0, 2).dump(), "932");
  EXPECT_EQ(rounded(-2.345, 1).dump(), "-2.3");
}

TEST(EstimateText, IsNoFinerThanAnyoneMeasures) {
  EXPECT_EQ(estimate_text(931.73, Unit::second), "15:32");
  EXPECT_EQ(estimate_text(186.6, Unit::pound), "187 lb");
  EXPECT_EQ(estimate_text(8.44, Unit::metre), "8.4 m");
}

TEST(ScoreJson, HasNullsWhereNothingIsKnown) {
  const Standard standard = small_standard();
  const Category& category = *standard.find_category("general");
  const ScoreCard card = score_results({{Date{}, "MDL", 170, "170 lb", Setting::practice, false}}, standard,
                                       category, "female", 28);
  const Json json = score_json(card, {card}, standard);
  EXPECT_EQ(json["total"], nullptr);
  EXPECT_EQ(json["pass"], nullptr);
  EXPECT_EQ(json["events"][0]["event"], "MDL");
  EXPECT_EQ(json["events"][0]["result"], 170);
  EXPECT_EQ(json["events"][0]["unit"], "lb");
  EXPECT_EQ(json["events"][1]["result"], nullptr);
  EXPECT_EQ(json["events"][1]["points"], nullptr);
  EXPECT_EQ(json["categories"].size(), 1U);
}

TEST(ScoreJson, BelowTheLowestRowThePointsAreNullAndPassIsFalse) {
  const Standard standard = small_standard();
  const Category& category = *standard.find_category("general");
  const ScoreCard card = score_results({{Date{}, "MDL", 60, "60 lb", Setting::practice, false},
                                        {Date{}, "HRP", 50, "50", Setting::practice, false},
                                        {Date{}, "2MR", 930, "15:30", Setting::practice, false}},
                                       standard, category, "female", 20);
  const Json json = score_json(card, {card}, standard);
  EXPECT_EQ(json["events"][0]["points"], nullptr);
  EXPECT_EQ(json["events"][0]["result"], 60);
  EXPECT_EQ(json["pass"], false);
  EXPECT_EQ(json["total"], nullptr);
}

}  // namespace
}  // namespace backplan::io

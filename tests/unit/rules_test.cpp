// The rules of data/model/rules.json: that they read, that they are the project's, and the small
// functions that turn them into limits.
#include "backplan/rules.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "io/readers.hpp"
#include "support/model_files.hpp"

namespace backplan {
namespace {

using test::only_fault;
using test::replace_in_file;

Rules embedded_rules() { return io::read_rules(io::embedded_data()).value(); }

Diagnostics faults_with(const std::string& old_text, const std::string& new_text) {
  const auto result = io::read_rules(replace_in_file("model/rules.json", old_text, new_text));
  return result.ok() ? Diagnostics{} : result.faults();
}

TEST(Rules, TheProgramsOwnReadWithoutFault) {
  const auto result = io::read_rules(io::embedded_data());
  ASSERT_TRUE(result.ok()) << to_string(result.faults().front());
  EXPECT_EQ(result.value().content_hash.size(), 16U);
}

TEST(Rules, HaveTheHardDaysOfEachBackground) {
  const Rules rules = embedded_rules();
  EXPECT_EQ(rules.hard_days_a_week.of(Background::new_to_training), 2);
  EXPECT_EQ(rules.hard_days_a_week.of(Background::regular), 3);
  EXPECT_EQ(rules.hard_days_a_week.of(Background::long_trained), 4);
  EXPECT_EQ(rules.hard_days_in_a_row, 2);
  EXPECT_EQ(rules.intervals_a_week.of(Background::new_to_training), 1);
  EXPECT_EQ(rules.intervals_a_week.of(Background::long_trained), 2);
  EXPECT_EQ(rules.deadlifts_a_week, 2);
  EXPECT_EQ(rules.days_between_deadlifts, 2);
  EXPECT_EQ(rules.rest_days_a_week.of(Background::new_to_training), 2);
  EXPECT_EQ(rules.rest_days_a_week.of(Background::regular), 1);
}

TEST(Rules, HaveTheRampDeloadAndTaper) {
  const Rules rules = embedded_rules();
  EXPECT_EQ(rules.untrained_shares, (std::vector<double>{0.6, 0.8, 1.0}));
  EXPECT_EQ(rules.off_days_for_untrained, 21);
  EXPECT_EQ(rules.lost_days_for_half, 14);
  EXPECT_DOUBLE_EQ(rules.half_share, 0.5);
  // Frandsen 2025, Br J Sports Med 59:1203: over 110 % of the longest run in 30 days raises the risk.
  EXPECT_DOUBLE_EQ(rules.longest_run_growth, 1.10);
  EXPECT_EQ(rules.longest_run_days, 30);
  EXPECT_DOUBLE_EQ(rules.longest_run_floor.value(), 2 * kMetresPerMile);
  EXPECT_EQ(rules.build_weeks_before_deload, 5);
  EXPECT_DOUBLE_EQ(rules.deload_least, 0.40);
  EXPECT_DOUBLE_EQ(rules.deload_most, 0.60);
  // Bosquet 2007, Med Sci Sports Exerc 39:1358: volume down 41 to 60 %.
  EXPECT_DOUBLE_EQ(rules.taper_least_cut, 0.41);
  EXPECT_EQ(rules.no_deadlift_days, 5);
  EXPECT_EQ(rules.no_training_days_before_test, 1);
  EXPECT_EQ(rules.plan_without_training_under_days, 8);
}

TEST(Rules, HaveTheSpacingOfFixedWorkAndTheMedicalTimes) {
  const Rules rules = embedded_rules();
  // TC 3-22.20 and FM 7-22, 2012: no march over 5 km beside a run.
  EXPECT_DOUBLE_EQ(rules.march_spacing_from.value(), 5000.0);
  EXPECT_EQ(rules.night_shift_easy_days, 1);
  EXPECT_DOUBLE_EQ(rules.profile_recovery_factor, 2.0);
  EXPECT_EQ(rules.profile_recovery_most_days, 90);
}

TEST(Rules, HomeWorkIsWorkThatHasAHomeShape) {
  const Model model = io::read_model(io::embedded_data()).value();
  const Rules rules = embedded_rules();
  ASSERT_EQ(rules.home_work.size(), 2U);
  for (const std::string& id : rules.home_work) {
    ASSERT_NE(model.find_work(id), nullptr) << id;
    EXPECT_TRUE(model.find_work(id)->home.has_value()) << id;
  }
}

TEST(Rules, EachIsListedAsAnAssumptionWithItsSource) {
  const Rules rules = embedded_rules();
  EXPECT_EQ(rules.assumptions.size(), 91U);
  for (const Assumption& one : rules.assumptions) {
    EXPECT_FALSE(one.value.empty()) << one.name;
    EXPECT_FALSE(one.source.empty()) << one.name;
  }
  const Assumption* growth = test::find_assumption(rules.assumptions, "rules.ramp.longest_run.growth");
  ASSERT_NE(growth, nullptr);
  EXPECT_EQ(growth->value, "1.1");
  EXPECT_EQ(growth->status, Status::published);
}

// The planner looks back 90 days for a spell without training (rules.hpp): it must see one whole.
TEST(Rules, ASpellAndTheReturnAfterItAreNoLongerThanThePlannerLooksBack) {
  const std::string off = R"("under_minutes": 30, "off_days": )";
  EXPECT_TRUE(faults_with(off + "21", off + "69").empty());  // 21 days of shares after it
  const Diagnostic longer = only_fault(faults_with(off + "21", off + "70"));
  EXPECT_NE(longer.message.find("\"off_days\" of 70 and 21 days"), std::string::npos) << longer.message;
  EXPECT_EQ(longer.hint, "let both together be at most 90 days");
  EXPECT_EQ(faults_with(R"("form_days": 14)", R"("form_days": 70)").size(), 1U);
  EXPECT_EQ(faults_with(R"("easy_days": 7)", R"("easy_days": 70)").size(), 1U);
  EXPECT_TRUE(faults_with(R"("days": 14, "share")", R"("days": 83, "share")").empty());
  EXPECT_EQ(faults_with(R"("days": 14, "share")", R"("days": 84, "share")").size(), 1U);
}

TEST(HardDayLimit, FollowsBackgroundAndFallsByOneFromForty) {
  const Rules rules = embedded_rules();
  EXPECT_EQ(hard_day_limit(rules, Background::new_to_training, 39), 2);
  EXPECT_EQ(hard_day_limit(rules, Background::regular, 39), 3);
  EXPECT_EQ(hard_day_limit(rules, Background::long_trained, 39), 4);
  EXPECT_EQ(hard_day_limit(rules, Background::new_to_training, 40), 2);
  EXPECT_EQ(hard_day_limit(rules, Background::regular, 40), 2);
  EXPECT_EQ(hard_day_limit(rules, Background::long_trained, 40), 3);
}

TEST(TaperDays, GrowWithTheMinutesOfAWeek) {
  const Rules rules = embedded_rules();
  EXPECT_EQ(taper_days(rules, 0), 5);
  EXPECT_EQ(taper_days(rules, 119), 5);
  EXPECT_EQ(taper_days(rules, 120), 7);
  EXPECT_EQ(taper_days(rules, 240), 7);
  EXPECT_EQ(taper_days(rules, 241), 10);
}

TEST(UsableMinutes, LeaveOutPreparationAndRecovery) {
  const Rules rules = embedded_rules();
  EXPECT_EQ(usable_minutes(rules, 0), 0);
  EXPECT_EQ(usable_minutes(rules, 8), 0);
  EXPECT_EQ(usable_minutes(rules, 9), 1);
  EXPECT_EQ(usable_minutes(rules, 39), 31);
  EXPECT_EQ(usable_minutes(rules, 40), 31);
  EXPECT_EQ(usable_minutes(rules, 46), 31);
  EXPECT_EQ(usable_minutes(rules, 47), 32);
  EXPECT_EQ(usable_minutes(rules, 60), 45);
}

TEST(UsableMinutes, NeverFallWhenTheSlotGrows) {
  const Rules rules = embedded_rules();
  for (int slot = 1; slot <= 240; ++slot) {
    EXPECT_GE(usable_minutes(rules, slot), usable_minutes(rules, slot - 1)) << slot;
  }
}

TEST(SessionMinutes, AddPreparationChangeOversAndRecovery) {
  const Rules rules = embedded_rules();
  EXPECT_EQ(session_minutes(rules, 0, 0), 0);
  EXPECT_EQ(session_minutes(rules, 20, 1), 28);
  EXPECT_EQ(session_minutes(rules, 31, 1), 39);
  EXPECT_EQ(session_minutes(rules, 32, 1), 47);
  EXPECT_EQ(session_minutes(rules, 45, 1), 60);
  EXPECT_EQ(session_minutes(rules, 65, 3), 86);
}

TEST(SessionMinutes, FitTheSlotExactlyWhenTheBlocksFitItsUsableMinutes) {
  const Rules rules = embedded_rules();
  for (int slot = 1; slot <= 240; ++slot) {
    for (int blocks = 1; blocks <= rules.blocks_a_slot; ++blocks) {
      const int most = usable_minutes(rules, slot) - rules.change_over_minutes * (blocks - 1);
      if (most <= 0) continue;
      for (int minutes = 1; minutes <= most; ++minutes) {
        EXPECT_LE(session_minutes(rules, minutes, blocks), slot) << minutes << " min in " << slot;
      }
      EXPECT_GT(session_minutes(rules, most + 1, blocks), slot) << "a minute more would fit " << slot;
    }
  }
}

TEST(RulesReader, NamesAnUnknownKeyAndItsPlace) {
  const auto faults = faults_with("\"in_a_row\":", "\"in_a_rwo\":");
  ASSERT_EQ(faults.size(), 2U);  // the unknown key and the missing one
  for (const Diagnostic& fault : faults) {
    EXPECT_EQ(fault.file, "model/rules.json");
    EXPECT_GT(fault.line, 0);
    EXPECT_GT(fault.column, 0);
  }
  const Diagnostic& unknown = faults[0].message.find("unknown") == 0 ? faults[0] : faults[1];
  EXPECT_EQ(unknown.message, "unknown key \"in_a_rwo\"");
  EXPECT_EQ(unknown.hint, "did you mean \"in_a_row\"?");
}

TEST(RulesReader, RefusesAShareOverOne) {
  const Diagnostic fault = only_fault(faults_with("\"most\": 0.6 }", "\"most\": 6.0 }"));
  EXPECT_EQ(fault.message, "expected a number from 0 to 1, found the number 6.0");
  EXPECT_EQ(fault.field, "/deload/share/value/most");
}

TEST(RulesReader, RefusesBoundsInTheWrongOrder) {
  const Diagnostic fault = only_fault(faults_with("\"refer_from\": 4", "\"refer_from\": 1"));
  EXPECT_EQ(fault.message, "\"watch_from\" is more than \"refer_from\"");
  EXPECT_EQ(fault.field, "/pain/limits/value");
}

TEST(RulesReader, RefusesAShortSlotThatLosesMoreThanALongOne) {
  const Diagnostic fault =
      only_fault(faults_with("\"preparation_minutes\": 6,", "\"preparation_minutes\": 16,"));
  EXPECT_EQ(fault.field, "/slot/short/value");
}

TEST(RulesReader, FindsEveryFaultOfAFileAtOnce) {
  auto files = replace_in_file("model/rules.json", "\"growth\": 1.1", "\"growth\": 0.1");
  files = replace_in_file(files, "model/rules.json", "\"factor\": 2.0", "\"factor\": true");
  const auto result = io::read_rules(files);
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.faults().size(), 2U);
}

TEST(RulesReader, SaysThatTheFileIsMissing) {
  const auto result = io::read_rules({});
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.faults().front().message, "the data file is missing");
}

}  // namespace
}  // namespace backplan

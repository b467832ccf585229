// The independent checker: a sound plan passes, and each single breaking is noticed under its own
// name. The plans are made by hand, the rules are those of data/model/rules.json.
#include "backplan/check.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>

#include "support/random_parts.hpp"
#include "support/sound_plan.hpp"

namespace backplan::testing {
namespace {

using Names = std::set<std::string>;

FixedWork fixed(int weekday, const std::string& work, int minutes, double metres) {
  FixedWork made;
  made.weekday = weekday;
  made.work = work;
  made.minutes = minutes;
  made.distance = Metres(metres);
  return made;
}

constexpr int kMon = 0, kTue = 1, kWed = 2, kThu = 3, kFri = 4, kSat = 5, kSun = 6;

TEST(Check, PassesASoundPlan) {
  Scene scene;
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(Check, PassesHomeBlocksAndEasyFixedWork) {
  Scene scene;
  scene.candidate.home_blocks = 2;
  scene.rules.taper_middle_up_to_minutes = 300;
  scene.candidate.fixed = {fixed(kWed, "unit_run", 25, 4000.0)};
  scene.edit.add(scene.day(5, kWed), "trunk", BlockSize::home);
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(Check, PassesAPlanWithoutWeeksOnTheTestDay) {
  Scene scene(0);
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(Check, GivesTheFirstDayAndTheNumbers) {
  Scene scene;
  scene.edit.add(scene.day(5, kThu), "trunk");
  scene.edit.refresh();
  const auto found = check_plan(scene.plan, scene.candidate, scene.standard, scene.model, scene.rules);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].where, scene.day(5, kThu));
  EXPECT_EQ(found[0].what, "the session takes 73 minutes; the day offers 60");
}

TEST(Check, SortsByDateThenRule) {
  Scene scene;
  scene.edit.add(scene.day(3, kThu), "trunk");
  scene.edit.add(scene.day(5, kThu), "trunk", BlockSize::home);
  scene.edit.add(scene.day(5, kThu), "throw");
  scene.edit.refresh();
  const auto found = check_plan(scene.plan, scene.candidate, scene.standard, scene.model, scene.rules);
  ASSERT_EQ(found.size(), 3U);
  EXPECT_EQ(found[0].rule, "home-blocks");  // dated by its week
  EXPECT_EQ(found[1].rule, "slot-minutes");
  EXPECT_EQ(found[1].where, scene.day(5, kThu));
  EXPECT_EQ(found[2].where, scene.day(3, kThu));
}

// Form.

TEST(CheckForm, NoticesAWrongAge) {
  Scene scene;
  scene.plan.age += 1;
  EXPECT_EQ(scene.broken(), Names{"form-plan"});
}

TEST(CheckForm, NoticesThePlanOfAnotherCandidate) {
  Scene scene;
  scene.plan.candidate = "somebody-else";
  EXPECT_EQ(scene.broken(), Names{"form-plan"});
}

TEST(CheckForm, NoticesAnotherTestDate) {
  Scene scene;
  scene.plan.test_date += Days{1};
  EXPECT_EQ(scene.broken(), Names{"form-plan"});
}

TEST(CheckForm, NoticesAWrongLengthOfAWeek) {
  Scene scene;
  scene.edit.refresh();
  scene.edit.week(5).days_long = 6;
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"form-weeks"});
}

TEST(CheckForm, NoticesAMissingWeek) {
  Scene scene;
  scene.edit.refresh();
  scene.plan.weeks.erase(scene.plan.weeks.begin());
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"form-weeks"});
}

TEST(CheckForm, NoticesWeeksOutOfOrder) {
  Scene scene;
  scene.edit.refresh();
  std::swap(scene.plan.weeks[3], scene.plan.weeks[4]);
  EXPECT_EQ(scene.broken_as_it_stands(), (Names{"form-days", "form-weeks"}));
}

TEST(CheckForm, NoticesMinutesThatDoNotSumUp) {
  Scene scene;
  scene.edit.refresh();
  scene.edit.week(5).minutes += 1;
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"form-minutes"});
}

TEST(CheckForm, NoticesADayInAnotherWeek) {
  Scene scene;
  scene.edit.refresh();
  PlannedDay day;
  day.date = scene.day(4, kSun);
  day.note = "wrong place";
  scene.edit.week(5).days.push_back(day);
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"form-days"});
}

TEST(CheckForm, NoticesATaperThatBeginsTooEarly) {
  Scene scene;
  scene.edit.week(5).phase = Phase::taper;
  EXPECT_EQ(scene.broken(), Names{"form-phase"});
}

TEST(CheckForm, NoticesABlockedWeekWithoutBlockedDays) {
  Scene scene;
  scene.edit.week(5).phase = Phase::blocked;
  EXPECT_EQ(scene.broken(), Names{"form-phase"});
}

TEST(CheckForm, NoticesABlockWithoutAReason) {
  Scene scene;
  scene.edit.day(scene.day(5, kMon)).blocks[0].why.clear();
  EXPECT_EQ(scene.broken(), Names{"form-text"});
}

TEST(CheckForm, NoticesUnknownWork) {
  Scene scene;
  scene.edit.day(scene.day(5, kTue)).blocks[1].work = "juggling";
  // A block of nobody's kind cannot be counted into the session either.
  EXPECT_EQ(scene.broken(), (Names{"slot-figures", "unknown-work"}));
}

// The slot.

TEST(CheckSlot, NoticesABlockOfTheWrongLength) {
  Scene scene;
  scene.edit.day(scene.day(5, kTue)).blocks[1].minutes = 12;
  EXPECT_EQ(scene.broken(), Names{"block-shape"});
}

TEST(CheckSlot, NoticesAFourthBlock) {
  Scene scene;
  scene.offer(scene.day(5, kThu), 120);
  scene.edit.add(scene.day(5, kThu), "trunk");
  scene.edit.add(scene.day(5, kThu), "throw");
  EXPECT_EQ(scene.broken(), Names{"slot-blocks"});
}

TEST(CheckSlot, NoticesASecondHardBlock) {
  Scene scene;
  scene.offer(scene.day(5, kSat), 120);
  scene.edit.add(scene.day(5, kSat), "intervals");
  EXPECT_EQ(scene.broken(), Names{"slot-hard"});
}

TEST(CheckSlot, CountsATimedRehearsalAsHard) {
  Scene scene;
  scene.edit.day(scene.day(5, kTue)).blocks[1].rehearsal = true;
  EXPECT_EQ(scene.broken(), Names{"slot-hard"});
}

TEST(CheckSlot, NoticesAKindTwiceADay) {
  Scene scene;
  scene.offer(scene.day(5, kThu), 120);
  scene.edit.add(scene.day(5, kThu), "push_up");
  EXPECT_EQ(scene.broken(), Names{"slot-repeat"});
}

TEST(CheckSlot, NoticesASessionLongerThanTheDayOffers) {
  Scene scene;
  scene.edit.add(scene.day(5, kThu), "trunk");
  EXPECT_EQ(scene.broken(), Names{"slot-minutes"});
}

TEST(CheckSlot, NoticesADayThatClaimsToOfferMore) {
  Scene scene;
  scene.edit.refresh();
  scene.edit.day(scene.day(5, kThu)).slot_minutes = 75;
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"slot-figures"});
}

TEST(CheckSlot, NoticesAHomeBlockTooMany) {
  Scene scene;
  scene.edit.add(scene.day(5, kThu), "trunk", BlockSize::home);
  EXPECT_EQ(scene.broken(), Names{"home-blocks"});
}

TEST(CheckSlot, NoticesWorkThatCannotBeDoneAtHome) {
  Scene scene;
  scene.candidate.home_blocks = 2;
  scene.rules.taper_middle_up_to_minutes = 300;
  scene.edit.add(scene.day(5, kWed), "easy_run", BlockSize::home);
  EXPECT_EQ(scene.broken(), Names{"home-blocks"});
}

TEST(CheckSlot, NoticesALiftAfterARun) {
  Scene scene;
  const Date date = scene.day(5, kMon);
  scene.offer(date, 120);
  scene.edit.clear(date);
  scene.edit.add(date, "easy_run");
  scene.edit.add(date, "deadlift");
  EXPECT_EQ(scene.broken(), Names{"block-order"});
}

TEST(CheckSlot, NoticesAHomeBlockBeforeTheSession) {
  Scene scene;
  scene.candidate.home_blocks = 2;
  scene.rules.taper_middle_up_to_minutes = 300;
  scene.edit.add(scene.day(5, kThu), "trunk", BlockSize::home);
  auto& blocks = scene.edit.day(scene.day(5, kThu)).blocks;
  std::swap(blocks.front(), blocks.back());
  EXPECT_EQ(scene.broken(), Names{"block-order"});
}

TEST(CheckSlot, NoticesAvoidedWork) {
  Scene scene;
  Avoid avoid;
  avoid.work = "tempo";
  avoid.from = scene.day(5, kMon);
  avoid.until = scene.day(5, kThu);
  scene.candidate.avoid = {avoid};
  EXPECT_EQ(scene.broken(), Names{"avoid"});
  scene.candidate.avoid[0].until = scene.day(5, kWed);
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(CheckSlot, NoticesMissingEquipment) {
  Scene scene;
  scene.candidate.equipment.sled = false;
  EXPECT_EQ(scene.broken(), Names{"equipment"});
}

// Hard days and their spacing.

TEST(CheckWeek, NoticesAHardDayTooMany) {
  Scene scene;
  scene.edit.day(scene.day(5, kThu)).blocks[1].rehearsal = true;
  EXPECT_EQ(scene.broken(), Names{"hard-days"});
}

TEST(CheckWeek, AllowsOneHardDayFewerFromForty) {
  Scene scene;
  scene.candidate.birth_date = born_for(40, scene.candidate.test_date, 0);
  scene.plan.age = 40;
  EXPECT_EQ(scene.broken(), Names{"hard-days"});
}

TEST(CheckWeek, CountsHardFixedWorkAsAHardDay) {
  Scene scene;
  scene.candidate.fixed = {fixed(kFri, "unit_run", 60, 9000.0)};
  EXPECT_EQ(scene.broken(), Names{"hard-days"});
}

TEST(CheckWeek, LeavesFixedWorkAloneThatBreaksALimitByItself) {
  Scene scene;
  for (int week = 12; week >= 1; --week) {
    scene.edit.clear_week(week);
    scene.edit.week(week).phase = week == 1 ? Phase::taper : week == 7 ? Phase::deload : Phase::build;
  }
  for (int weekday = kMon; weekday <= kSun; ++weekday) {
    scene.candidate.fixed.push_back(fixed(weekday, "unit_run", 60, 9000.0));
  }
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(CheckWeek, NoticesThreeHardDaysInARow) {
  Scene scene;
  scene.offer(scene.day(5, kWed), 60);
  scene.edit.clear(scene.day(5, kSat));
  scene.edit.add(scene.day(5, kWed), "shuttle");
  EXPECT_EQ(scene.broken(), Names{"hard-days-in-a-row"});
}

TEST(CheckWeek, NoticesThreeHardDaysInARowAcrossWeeks) {
  Scene scene;
  scene.offer(scene.day(5, kSun), 60);
  scene.edit.clear(scene.day(5, kSat));
  scene.edit.add(scene.day(5, kSun), "shuttle");
  EXPECT_EQ(scene.broken(), Names{"hard-days-in-a-row"});
}

TEST(CheckWeek, NoticesIntervalsTooOften) {
  Scene scene;
  scene.edit.clear(scene.day(5, kMon));
  scene.edit.clear(scene.day(5, kThu));
  scene.edit.clear(scene.day(5, kSat));
  scene.edit.add(scene.day(5, kThu), "intervals");
  scene.edit.add(scene.day(5, kSat), "intervals");
  EXPECT_EQ(scene.broken(), Names{"intervals-a-week"});
}

TEST(CheckWeek, NoticesIntervalsOnTwoDaysInARow) {
  Scene scene;
  scene.edit.clear(scene.day(5, kMon));
  scene.edit.add(scene.day(5, kMon), "intervals");
  EXPECT_EQ(scene.broken(), Names{"intervals-in-a-row"});
}

TEST(CheckWeek, NoticesDeadliftsTooOften) {
  Scene scene;
  for (const int weekday : {kTue, kThu, kSat}) scene.edit.clear(scene.day(5, weekday));
  scene.edit.add(scene.day(5, kThu), "deadlift");
  scene.edit.add(scene.day(5, kSat), "deadlift");
  EXPECT_EQ(scene.broken(), Names{"deadlifts-a-week"});
}

TEST(CheckWeek, NoticesDeadliftsLessThanTwoDaysApart) {
  Scene scene;
  scene.edit.clear(scene.day(5, kTue));
  scene.edit.add(scene.day(5, kTue), "deadlift");
  EXPECT_EQ(scene.broken(), Names{"deadlift-spacing"});
}

TEST(CheckWeek, NoticesIntervalsOnTheDayBeforeADeadlift) {
  Scene scene;
  scene.edit.clear(scene.day(5, kMon));
  scene.edit.clear(scene.day(5, kTue));
  scene.edit.add(scene.day(5, kMon), "intervals");
  scene.edit.add(scene.day(5, kTue), "deadlift");
  EXPECT_EQ(scene.broken(), Names{"intervals-before-deadlift"});
}

TEST(CheckWeek, NoticesAWeekWithoutADayOfRest) {
  Scene scene;
  for (const int weekday : {kWed, kFri, kSun}) {
    scene.offer(scene.day(5, weekday), 30);
    scene.edit.add(scene.day(5, weekday), "trunk");
  }
  EXPECT_EQ(scene.broken(), Names{"rest-days"});
}

TEST(CheckWeek, CountsFixedWorkAgainstTheDaysOfRest) {
  Scene scene;
  for (const int weekday : {kWed, kFri, kSun}) {
    scene.candidate.fixed.push_back(fixed(weekday, "unit_run", 20, 3000.0));
  }
  EXPECT_EQ(scene.broken(), Names{"rest-days"});
}

// Ramp.

TEST(CheckRamp, NoticesHardSessionsThatGrowTooFast) {
  Scene scene;
  scene.candidate.now.hard_sessions = 1;
  EXPECT_EQ(scene.broken(), Names{"ramp-hard"});
}

TEST(CheckRamp, DoesNotCountADeloadAsOneOfTheLastTwoWeeks) {
  Scene scene;
  scene.edit.clear(scene.day(7, kMon));
  scene.edit.clear(scene.day(7, kTue));
  scene.edit.add(scene.day(7, kMon), "tempo", BlockSize::shorter);
  scene.edit.add(scene.day(7, kTue), "tempo");
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(CheckRamp, NoticesFullWeeksFromUntrained) {
  Scene scene;
  scene.candidate.now.minutes = 20;
  EXPECT_EQ(scene.broken(), Names{"ramp-minutes"});
  const auto found = check_plan(scene.plan, scene.candidate, scene.standard, scene.model, scene.rules);
  EXPECT_EQ(found.size(), 2U);  // 60 and 80 %, then all
}

// So long after the last run only the floor of two miles is left.
void shorten_runs(Scene& scene, int from_week) {
  for (PlannedWeek& week : scene.plan.weeks) {
    for (PlannedDay& day : week.days) {
      for (Block& block : day.blocks) {
        if (week.index <= from_week && block.continuous_run) block.continuous_run = Metres(3000.0);
      }
    }
  }
}

TEST(CheckRamp, NoticesAFullWeekAfterTwoLostOnes) {
  Scene scene;
  shorten_runs(scene, 9);
  scene.candidate.blocked = {{scene.day(10, kMon), scene.day(9, kSun), BlockedKind::field, "invented"}};
  for (const int week : {10, 9}) {
    scene.edit.clear_week(week);
    scene.edit.week(week).phase = Phase::blocked;
  }
  scene.fill_light(8);
  scene.edit.clear(scene.day(8, kMon));  // the days after a field exercise are easy
  scene.edit.clear(scene.day(8, kTue));
  EXPECT_EQ(scene.broken(), Names{});
  scene.edit.add(scene.day(8, kSat), "shuttle");
  scene.edit.add(scene.day(8, kMon), "tempo");
  EXPECT_EQ(scene.broken(), Names{}) << "120 of 240 minutes is just half";
  scene.edit.add(scene.day(8, kThu), "trunk");
  EXPECT_EQ(scene.broken(), Names{"ramp-minutes"});
}

TEST(CheckRamp, NoticesAFullWeekAfterThreeLostOnes) {
  Scene scene;
  scene.candidate.blocked = {{scene.day(11, kMon), scene.day(9, kSun), BlockedKind::rest, "invented"}};
  for (const int week : {11, 10, 9}) {
    scene.edit.clear_week(week);
    scene.edit.week(week).phase = Phase::blocked;
  }
  shorten_runs(scene, 8);
  EXPECT_EQ(scene.broken(), Names{"ramp-minutes"});
}

TEST(CheckRamp, NoticesARunTooLong) {
  Scene scene;
  scene.edit.day(scene.day(5, kThu)).blocks[0].continuous_run = Metres(4500.0);
  EXPECT_EQ(scene.broken(), Names{"run-length"});
  scene.edit.day(scene.day(5, kThu)).blocks[0].continuous_run = Metres(4400.0);
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(CheckRamp, CountsTheRunsOfFixedWork) {
  Scene scene;
  scene.candidate.fixed = {fixed(kWed, "unit_run", 35, 6000.0)};
  scene.edit.day(scene.day(5, kThu)).blocks[0].continuous_run = Metres(6600.0);
  EXPECT_EQ(scene.broken(), Names{});
}

// Deload.

TEST(CheckDeload, NoticesThatItIsMissing) {
  Scene scene;
  scene.fill_build(7);
  scene.edit.week(7).phase = Phase::build;
  EXPECT_EQ(scene.broken(), Names{"deload-missing"});
}

TEST(CheckDeload, TakesASpellOfRestForOneButNoFieldExercise) {
  Scene scene;
  scene.candidate.blocked = {{scene.day(7, kMon), scene.day(7, kFri), BlockedKind::light, "invented"}};
  scene.edit.clear_week(7);
  scene.edit.week(7).phase = Phase::build;
  EXPECT_EQ(scene.broken(), Names{});
  scene.candidate.blocked[0].kind = BlockedKind::field;
  EXPECT_EQ(scene.broken(), Names{"deload-missing"});
}

TEST(CheckDeload, NoticesTooManyMinutes) {
  Scene scene;
  scene.fill_build(7);
  EXPECT_EQ(scene.broken(), Names{"deload-minutes"});
}

TEST(CheckDeload, NoticesTooFewMinutes) {
  Scene scene;
  scene.edit.clear(scene.day(7, kTue));
  EXPECT_EQ(scene.broken(), Names{"deload-minutes"});
}

TEST(CheckDeload, AllowsFewerMinutesWhereDaysAreBlocked) {
  Scene scene;
  scene.edit.clear(scene.day(7, kTue));
  scene.candidate.blocked = {{scene.day(7, kTue), scene.day(7, kTue), BlockedKind::rest, "invented"}};
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(CheckDeload, NoticesOneTooNearTheTaper) {
  Scene scene;
  scene.fill_light(4);
  scene.edit.week(4).phase = Phase::deload;
  EXPECT_EQ(scene.broken(), Names{"deload-too-late"});
}

TEST(CheckDeload, NoticesANeedlessOne) {
  Scene scene;
  for (int week = 12; week >= 2; --week) {
    if (week == 7) continue;
    scene.edit.clear(scene.day(week, kSat));
    scene.edit.add(scene.day(week, kSat), "tempo");
  }
  EXPECT_EQ(scene.broken(), Names{"deload-needless"});
}

TEST(CheckDeload, NoticesOtherDays) {
  Scene scene;
  scene.candidate.week[kFri] = 20;
  scene.rules.taper_middle_up_to_minutes = 300;
  scene.edit.clear(scene.day(7, kThu));
  scene.edit.add(scene.day(7, kFri), "push_up", BlockSize::shorter);
  EXPECT_EQ(scene.broken(), Names{"deload-days"});
}

TEST(CheckDeload, NoticesMoreHardSessionsThanBefore) {
  Scene scene;
  for (const int week : {10, 9, 8}) {
    scene.edit.clear(scene.day(week, kSat));
    scene.edit.add(scene.day(week, kSat), "tempo");
  }
  scene.edit.day(scene.day(7, kThu)).blocks[0].rehearsal = true;
  EXPECT_EQ(scene.broken(), Names{"deload-hard"});
}

// Taper.

TEST(CheckTaper, NoticesTooManyMinutes) {
  Scene scene;
  scene.fill_build(1);
  scene.edit.clear(scene.day(1, kSat));
  EXPECT_EQ(scene.broken(), Names{"taper-minutes"});
}

TEST(CheckTaper, LastsTenDaysWhereThereIsMoreTime) {
  Scene scene;
  scene.edit.week(2).phase = Phase::taper;
  EXPECT_EQ(scene.broken(), Names{"form-phase"});
  scene.candidate.week[kWed] = 30;  // 270 minutes a week instead of 240
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(CheckTaper, NoticesADeadliftInTheLastFiveDays) {
  Scene scene;
  scene.edit.clear(scene.day(1, kMon));
  scene.edit.clear(scene.day(1, kThu));
  scene.edit.add(scene.day(1, kThu), "deadlift", BlockSize::shorter);
  EXPECT_EQ(scene.broken(), Names{"taper-deadlift"});
}

TEST(CheckTaper, NoticesTrainingOnTheDayBefore) {
  Scene scene;
  scene.offer(scene.day(1, kSun), 30);
  scene.edit.add(scene.day(1, kSun), "trunk", BlockSize::shorter);
  EXPECT_EQ(scene.broken(), Names{"day-before-test"});
}

TEST(CheckTaper, NoticesTrainingWhenItIsTooLate) {
  Scene scene(1);
  EXPECT_EQ(scene.broken(), Names{"too-late"});
  scene.edit.clear_week(1);
  scene.edit.add(scene.day(1, kTue), "push_up", BlockSize::shorter);
  EXPECT_EQ(scene.broken(), Names{});
}

// Days next to other days.

TEST(CheckDay, NoticesTrainingOnTheDayOfADiagnostic) {
  Scene scene;
  scene.candidate.diagnostics = {scene.day(5, kSat)};
  EXPECT_EQ(scene.broken(), Names{"diagnostic"});
}

TEST(CheckDay, NoticesHardTrainingTwoDaysBeforeADiagnostic) {
  Scene scene;
  scene.candidate.diagnostics = {scene.day(5, kThu)};
  scene.edit.clear(scene.day(5, kThu));
  scene.edit.clear(scene.day(5, kSat));
  EXPECT_EQ(scene.broken(), Names{"diagnostic-easy-days"});
}

TEST(CheckDay, NoticesHardTrainingAfterANightShift) {
  Scene scene;
  DayOverride night;
  night.date = scene.day(5, kTue);
  night.after_night_shift = true;
  scene.candidate.days = {night};
  EXPECT_EQ(scene.broken(), Names{"night-shift"});
}

TEST(CheckDay, NoticesHardTrainingAfterAFieldExercise) {
  Scene scene;
  scene.candidate.blocked = {{scene.day(6, kFri), scene.day(6, kSun), BlockedKind::field, "invented"}};
  scene.edit.clear(scene.day(6, kSat));
  EXPECT_EQ(scene.broken(), Names{"after-field"});
  scene.candidate.blocked[0].kind = BlockedKind::rest;
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(CheckDay, NoticesARunNextToALongMarch) {
  Scene scene;
  scene.candidate.fixed = {fixed(kWed, "march", 90, 8000.0)};
  EXPECT_EQ(scene.broken(), Names{"march-spacing"});
  scene.candidate.fixed[0].distance = Metres(4000.0);
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(CheckDay, NoticesTrainingOnABlockedDay) {
  Scene scene;
  scene.candidate.blocked = {{scene.day(5, kThu), scene.day(5, kThu), BlockedKind::rest, "invented"}};
  // A blocked day offers no minutes either.
  EXPECT_EQ(scene.broken(), (Names{"blocked-day", "slot-minutes"}));
}

TEST(CheckDay, NoticesFixedWorkShownOnABlockedDay) {
  Scene scene;
  scene.candidate.blocked = {{scene.day(5, kFri), scene.day(5, kFri), BlockedKind::rest, "invented"}};
  scene.edit.refresh();
  scene.edit.day(scene.day(5, kFri)).fixed = "march";
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"blocked-day"});
}

TEST(CheckDay, NoticesThatFixedWorkIsNotShown) {
  Scene scene;
  scene.edit.refresh();
  scene.candidate.fixed = {fixed(kWed, "unit_run", 20, 3000.0)};
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"fixed-work"});
}

// Medical.

TEST(CheckMedical, NoticesWhatTheProfileDoesNotPermit) {
  Scene scene;
  scene.candidate.medical.status = MedicalStatus::profile;
  scene.candidate.medical.permitted = {"deadlift", "push_up", "trunk", "intervals", "tempo"};
  scene.candidate.medical.until = scene.day(11, kSat);
  EXPECT_EQ(scene.broken(), Names{"medical-profile"});
  scene.candidate.medical.until = scene.day(12, kFri);
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(CheckMedical, NoticesAPlanForSomebodyPregnant) {
  Scene scene;
  scene.candidate.medical.status = MedicalStatus::pregnant;
  EXPECT_EQ(scene.broken(), Names{"medical-refused"});
  scene.plan.weeks.clear();
  EXPECT_EQ(scene.broken(), Names{});
}

// One easy session of trunk work a week: sound even by the limits of `new`.
void fill_easy(Scene& scene) {
  scene.candidate.medical.status = MedicalStatus::postpartum;
  scene.candidate.medical.cleared_on = scene.plan.as_of;
  for (int week = 12; week >= 1; --week) {
    scene.edit.clear_week(week);
    scene.edit.week(week).phase = week == 1 ? Phase::taper : Phase::build;
    if (week > 1) scene.edit.add(scene.day(week, kThu), "trunk");
  }
}

TEST(CheckMedical, WantsAClearanceAfterABirth) {
  Scene scene;
  fill_easy(scene);
  EXPECT_EQ(scene.broken(), Names{});
  scene.candidate.medical.cleared_on = scene.plan.as_of + Days{1};
  EXPECT_EQ(scene.broken(), Names{"medical-refused"});
}

TEST(CheckMedical, NoticesATimedRehearsalAfterABirth) {
  Scene scene;
  fill_easy(scene);
  scene.edit.day(scene.day(5, kThu)).blocks[0].rehearsal = true;
  EXPECT_EQ(scene.broken(), Names{"medical-rehearsal"});
}

TEST(CheckMedical, TakesTheLimitsOfNewAfterABirth) {
  Scene scene;
  scene.candidate.medical.status = MedicalStatus::postpartum;
  scene.candidate.medical.cleared_on = scene.plan.as_of;
  EXPECT_EQ(scene.broken(), Names{"hard-days"});
}

}  // namespace
}  // namespace backplan::testing

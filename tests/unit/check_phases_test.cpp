// The independent checker on deload and taper, on days next to other days, and on medical limits.
#include <gtest/gtest.h>

#include "backplan/check.hpp"
#include "support/sound_plan.hpp"

namespace backplan::testing {
namespace {

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

TEST(CheckDeload, TakesAWeekInWhichNothingIsDoneForOne) {
  Scene scene;
  scene.edit.clear_week(7);
  scene.edit.week(7).phase = Phase::build;
  EXPECT_EQ(scene.broken(), Names{});
}

// The march of every week stays in a deload, too.
TEST(CheckDeload, TakesAWeekInWhichNothingButFixedWorkIsDoneForOne) {
  Scene scene;
  scene.candidate.fixed = {fixed_work(kSun, "march", 90, 8000.0)};
  scene.edit.clear_week(7);
  scene.edit.week(7).phase = Phase::build;
  EXPECT_EQ(scene.broken().count("deload-missing"), 0U);
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

// One session a week: none fits into 60 % of its minutes.
TEST(CheckDeload, AllowsNoneWhereNoSessionIsShortEnough) {
  Scene scene;
  for (int week = 12; week >= 2; --week) {
    if (week == 7) continue;
    for (const int day : {kTue, kThu, kSat}) scene.edit.clear(scene.day(week, day));
  }
  scene.edit.clear_week(7);
  EXPECT_EQ(scene.broken().count("deload-minutes"), 0U);
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
  scene.edit.clear(scene.day(1, kTue));
  scene.edit.clear(scene.day(1, kThu));
  scene.offer(scene.day(1, kWed), 60);
  scene.edit.add(scene.day(1, kWed), "deadlift", BlockSize::shorter);
  EXPECT_EQ(scene.broken(), Names{"taper-deadlift"}) << "on the fifth";
  scene.edit.clear(scene.day(1, kWed));
  scene.edit.add(scene.day(1, kTue), "deadlift", BlockSize::shorter);
  EXPECT_EQ(scene.broken(), Names{}) << "on the sixth";
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
  scene.candidate.fixed = {fixed_work(kWed, "march", 90, 8000.0)};
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
  scene.candidate.fixed = {fixed_work(kWed, "unit_run", 20, 3000.0)};
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"fixed-work"});
}

// Medical.

TEST(CheckMedical, NoticesWhatTheProfileDoesNotPermit) {
  Scene scene;
  scene.candidate.medical.status = MedicalStatus::profile;
  scene.candidate.medical.permitted = {"deadlift", "push_up", "trunk", "intervals", "tempo"};
  scene.candidate.medical.since = scene.plan.as_of;
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
  // Who gets no plan has no march in it either.
  scene.candidate.fixed = {{2, "march", 120, {}}};
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

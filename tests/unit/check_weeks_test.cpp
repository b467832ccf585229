// The independent checker on weeks: hard days, spacing, rest and the ramp.
#include <gtest/gtest.h>

#include "backplan/check.hpp"
#include "support/random_parts.hpp"
#include "support/sound_plan.hpp"

namespace backplan::testing {
namespace {

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

// A kind that is hard from nothing on is always hard; so is a hard work kind that is fixed.
TEST(CheckWeek, CountsFixedWorkThatIsAlwaysHardAsAHardDay) {
  for (const char* work : {"circuit", "intervals", "shuttle"}) {
    Scene scene;
    FixedKind circuit;
    circuit.id = circuit.name = "circuit";
    circuit.counts_as = "shuttle";
    scene.model.fixed.push_back(circuit);
    scene.candidate.fixed = {fixed_work(kFri, work, 60, 0.0)};
    scene.candidate.fixed.front().distance.reset();
    EXPECT_EQ(scene.broken(), Names{"hard-days"}) << work;
  }
}

TEST(CheckWeek, CountsHardFixedWorkAsAHardDay) {
  Scene scene;
  scene.candidate.fixed = {fixed_work(kFri, "unit_run", 60, 9000.0)};
  EXPECT_EQ(scene.broken(), Names{"hard-days"});
}

TEST(CheckWeek, LeavesFixedWorkAloneThatBreaksALimitByItself) {
  Scene scene;
  for (int week = 12; week >= 1; --week) {
    scene.edit.clear_week(week);
    scene.edit.week(week).phase = week == 1 ? Phase::taper : week == 7 ? Phase::deload : Phase::build;
  }
  for (int weekday = kMon; weekday <= kSun; ++weekday) {
    scene.candidate.fixed.push_back(fixed_work(weekday, "unit_run", 60, 9000.0));
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
    scene.candidate.fixed.push_back(fixed_work(weekday, "unit_run", 20, 3000.0));
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
  EXPECT_EQ(scene.broken(), (Names{"coming-back", "ramp-minutes"}));
}

// Running alone was away: what is left of the week is the checker's to judge, not its minutes.
TEST(CheckReturn, NoticesFastRunningFullBlocksAndRehearsalsInTheFirstWeekBack) {
  Scene scene;
  for (const WorkKind& kind : scene.model.work) {
    if (kind.running)
      scene.candidate.avoid.push_back({kind.id, scene.day(11, kMon), scene.day(9, kSun), "invented"});
  }
  for (const int week : {11, 10, 9, 8}) {
    for (const int weekday : {kTue, kThu}) scene.edit.clear(scene.day(week, weekday));
  }
  shorten_runs(scene, 8);
  EXPECT_EQ(scene.broken().count("coming-back"), 0U);
  scene.edit.add(scene.day(8, kTue), "intervals", BlockSize::shorter);
  EXPECT_EQ(scene.broken().count("coming-back"), 1U);
  scene.edit.clear(scene.day(8, kTue));
  scene.edit.add(scene.day(8, kTue), "easy_run", BlockSize::shorter).continuous_run = Metres(2000.0);
  EXPECT_EQ(scene.broken().count("coming-back"), 0U);
  scene.edit.clear(scene.day(8, kTue));
  scene.edit.add(scene.day(8, kTue), "easy_run").continuous_run = Metres(2000.0);
  EXPECT_EQ(scene.broken().count("coming-back"), 1U);
  // Twenty days are not weeks enough.
  for (Avoid& avoid : scene.candidate.avoid) avoid.from = scene.day(11, kTue);
  EXPECT_EQ(scene.broken().count("coming-back"), 0U);
}

// The same of days that a journal leaves empty, up to the day before the plan or into a blocked spell.
TEST(CheckRamp, NoticesAFullWeekAfterTwoWeeksThatTheJournalLeavesEmpty) {
  Scene scene;
  const Date first = scene.plan.as_of;
  scene.candidate.now.off = DaysOff{first - Days(13), first - Days(1)};
  EXPECT_EQ(scene.broken(), Names{}) << "thirteen days are no two weeks";
  scene.candidate.now.off = DaysOff{first - Days(14), first - Days(1)};
  EXPECT_EQ(scene.broken(), Names{"ramp-minutes"});
  scene.candidate.now.off = DaysOff{first - Days(28), first - Days(15)};
  EXPECT_EQ(scene.broken(), Names{}) << "the half week was two weeks ago";
  scene.candidate.now.off = DaysOff{first - Days(28), first - Days(8)};
  EXPECT_EQ(scene.broken(), Names{"ramp-minutes"}) << "after three weeks the second week has 80 %";
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
  scene.candidate.fixed = {fixed_work(kWed, "unit_run", 35, 6000.0)};
  scene.edit.day(scene.day(5, kThu)).blocks[0].continuous_run = Metres(6600.0);
  EXPECT_EQ(scene.broken(), Names{});
}

}  // namespace
}  // namespace backplan::testing

// What was done becomes stimulus, S and L.
#include "core/dose_history.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "backplan/history.hpp"
#include "property/shipped_data.hpp"
#include "support/histories.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using support::HistoryMaker;

const Model& model() { return testing::shipped_model(); }
const EventModel& event(const std::string& id) { return *model().find_event(id); }

const Date kBegins = test::day(2026, 6, 1);

Date after(int days) { return kBegins + Days(days); }

DoseHistory dose_of(const History& history, const std::string& id, Date as_of) {
  return {days_done(history, model(), as_of), *history.begins, model(), event(id), event(id).dose};
}

double stimulus(const History& history, Date day, const std::string& kind) {
  const auto days = days_done(history, model(), day + Days(1));
  const auto found = days.back().stimulus.find(kind);
  return found == days.back().stimulus.end() ? 0.0 : found->second;
}

// Block sizes of data/model/work.json: deadlift 45 minutes 1, 30 minutes 0.65.
TEST(DoseHistory, MinutesAreReadAgainstTheBlockSizes) {
  const auto of_minutes = [](int minutes) {
    return stimulus(HistoryMaker(kBegins).work(kBegins, "deadlift", minutes).made(), kBegins, "deadlift");
  };
  EXPECT_NEAR(of_minutes(15), 0.325, 1e-12);
  EXPECT_NEAR(of_minutes(30), 0.65, 1e-12);
  EXPECT_NEAR(of_minutes(45), 1.0, 1e-12);
  EXPECT_NEAR(of_minutes(54), 1.2, 1e-12);
  EXPECT_NEAR(of_minutes(200), 1.5, 1e-12) << "no session counts for more than one and a half full blocks";
  for (int minutes = 1; minutes < 90; ++minutes) EXPECT_GE(of_minutes(minutes + 1), of_minutes(minutes));
}

TEST(DoseHistory, TwoSessionsOfAKindOnOneDayShareTheCap) {
  HistoryMaker maker(kBegins);
  maker.work(kBegins, "easy_run", 40).work(kBegins, "easy_run", 40);
  EXPECT_NEAR(stimulus(maker.made(), kBegins, "easy_run"), 1.5, 1e-12);
}

TEST(DoseHistory, ASessionWithoutMinutesIsAFullBlock) {
  EXPECT_NEAR(stimulus(HistoryMaker(kBegins).work(kBegins, "trunk").made(), kBegins, "trunk"), 1.0, 1e-12);
}

// data/model/work.json: a march counts as easy running, 0.0125 a minute.
TEST(DoseHistory, FixedWorkCountsByItsMinutes) {
  const History history = HistoryMaker(kBegins).work(kBegins, "march", 120).made();
  EXPECT_NEAR(stimulus(history, kBegins, "easy_run"), 1.5, 1e-12);
  const auto days = days_done(history, model(), after(1));
  EXPECT_TRUE(days[0].hard) << "two hours of marching";
}

History planned(Date day) {
  HistoryMaker maker(kBegins);
  maker.add(kBegins, Missed{});  // the record begins
  Plan plan;
  PlannedWeek week;
  PlannedDay one;
  one.date = day;
  Block block;
  block.work = "deadlift";
  block.minutes = 45;
  one.blocks = {block};
  block.work = "push_up";
  block.size = BlockSize::home;
  block.minutes = 10;
  one.blocks.push_back(block);
  week.days = {one};
  plan.weeks = {week};
  maker.made().plan = plan;
  return maker.made();
}

TEST(DoseHistory, APlannedDayThatNobodyWroteAboutCountsInPart) {
  const History history = planned(after(3));
  EXPECT_NEAR(stimulus(history, after(3), "deadlift"), 0.85, 1e-12);
  EXPECT_NEAR(stimulus(history, after(3), "push_up"), 0.85 * 0.5, 1e-12);
  const auto days = days_done(history, model(), after(4));
  EXPECT_NEAR(days[3].minutes, 0.85 * 55, 1e-9);
  EXPECT_TRUE(days[3].hard);
}

TEST(DoseHistory, AMissedDayCountsForNothing) {
  History history = planned(after(3));
  history.entries.push_back({support::id_number(9), after(3), Missed{"duty"}, "", 0});
  EXPECT_EQ(stimulus(history, after(3), "deadlift"), 0.0);
}

TEST(DoseHistory, ADayThatWasLoggedCountsForWhatWasDone) {
  History history = planned(after(3));
  history.entries.push_back(
      {support::id_number(9), after(3), WorkDone{"trunk", 15, {}, {}, {}, false, {}}, "", 0});
  EXPECT_EQ(stimulus(history, after(3), "deadlift"), 0.0);
  EXPECT_NEAR(stimulus(history, after(3), "trunk"), 1.0, 1e-12);
}

TEST(DoseHistory, TheRecordBeginsWithTheFirstWorkOrMissedDay) {
  Standing standing;
  standing.entries.push_back(
      {support::id_number(1), after(0), ResultDone{"MDL", {200.0, "200"}, {}, false}, "", 0});
  EXPECT_FALSE(history_of(standing).begins);
  EXPECT_FALSE(history_of(standing).empty());
  standing.entries.push_back({support::id_number(2), after(5), Missed{}, "", 0});
  standing.entries.push_back(
      {support::id_number(3), after(9), WorkDone{"trunk", {}, {}, {}, {}, false, {}}, "", 0});
  EXPECT_EQ(history_of(standing).begins, after(5));
}

TEST(DoseHistory, SteadyWeeksAddWhatThePlanSaysTheyAdd) {
  const History history = HistoryMaker(kBegins).weeks(kBegins, 10, "deadlift", 2).made();
  const DoseHistory dose = dose_of(history, "MDL", after(70));
  const double a_week = dose_gain(event("MDL").dose, 2.0);
  EXPECT_NEAR(dose.s_on(after(70)) - dose.s_on(after(21)), 7.0 * a_week, 1e-9);
  EXPECT_LT(dose.s_on(after(7)), a_week) << "the first week still holds days of the keep dose";
  EXPECT_EQ(dose.s_on(kBegins - Days(30)), 0.0);
  EXPECT_EQ(dose.loss_on(after(70)), 0.0);
}

TEST(DoseHistory, MoreWorkNeverAddsLessAndNeverLosesMore) {
  double s = -1.0;
  double loss = 1.0;
  for (int times = 0; times <= 3; ++times) {
    const History history = HistoryMaker(kBegins).weeks(kBegins, 12, "intervals", times).made();
    const DoseHistory dose = dose_of(history, "2MR", after(84));
    EXPECT_GE(dose.s_on(after(84)), s);
    EXPECT_LE(dose.loss_on(after(84)), loss);
    s = dose.s_on(after(84));
    loss = dose.loss_on(after(84));
  }
}

// Rest: runs lose 1 % a week after ten days, strength 0.7 % a week after three weeks, repetitions and
// holds 1.5 % a week after two, at most 12 % (data/model/events.json; Zheng 2022, PMC9398774: no further loss
// of oxygen uptake after 90 days; Bosquet 2013: strength loss becomes clear from week 3).
TEST(DoseHistory, RestLosesAfterItsGraceUpToTheCap) {
  HistoryMaker maker(kBegins);
  maker.weeks(kBegins, 8, "deadlift", 2).weeks(kBegins, 8, "intervals", 2).weeks(kBegins, 8, "tempo", 2);
  maker.weeks(kBegins, 8, "push_up", 3).weeks(kBegins, 8, "trunk", 3);
  struct Case {
    std::string event;
    int last;  // day of the last work that feeds the event
    double per_week, grace;
  };
  // Of the last week: intervals, tempo, deadlift on days 0 and 2, push-ups and trunk on days 0, 2 and 4; the
  // trunk work feeds the deadlift, the push-ups the plank.
  for (const Case& one : {Case{"2MR", 51, 0.010, 10}, Case{"MDL", 53, 0.007, 21}, Case{"HRP", 53, 0.015, 14},
                          Case{"PLK", 53, 0.015, 14}}) {
    const DoseHistory dose = dose_of(maker.made(), one.event, after(700));
    const auto lost_after = [&](int days) { return dose.loss_on(after(one.last + 1 + days)); };
    EXPECT_EQ(lost_after(static_cast<int>(one.grace)), 0.0) << one.event;
    EXPECT_NEAR(lost_after(static_cast<int>(one.grace) + 28), 4.0 * one.per_week, 1e-9) << one.event;
    EXPECT_NEAR(lost_after(600), 0.12, 1e-12) << one.event;
  }
}

// Endurance is held by two sessions a week for fifteen weeks, strength by one (Spiering 2021, J Strength Cond
// Res 35:1449).
TEST(DoseHistory, TwoRunsAndOneLiftAWeekHold) {
  HistoryMaker maker(kBegins);
  maker.weeks(kBegins, 15, "intervals", 2).weeks(kBegins, 15, "deadlift", 1);
  EXPECT_EQ(dose_of(maker.made(), "2MR", after(105)).loss_on(after(105)), 0.0);
  EXPECT_EQ(dose_of(maker.made(), "MDL", after(105)).loss_on(after(105)), 0.0);
}

TEST(DoseHistory, WhatWasLostComesBackAtDoubleRateUpToTheOldLevel) {
  HistoryMaker maker(kBegins);
  maker.weeks(kBegins, 1, "intervals", 2).weeks(after(70), 20, "intervals", 3);
  const DoseHistory dose = dose_of(maker.made(), "2MR", after(200));
  double most = 0.0;
  for (int day = 0; day < 90; ++day) most = std::max(most, dose.loss_on(after(day)));
  EXPECT_GT(most, 0.06);
  const double before = dose.loss_on(after(80));
  EXPECT_NEAR(dose.loss_on(after(87)), before - 2.0 * 0.010, 1e-9);
  EXPECT_EQ(dose.loss_on(after(200)), 0.0);
}

TEST(DoseHistory, TheGapOfTodayIsCounted) {
  const History history = HistoryMaker(kBegins).weeks(kBegins, 3, "intervals", 3).made();
  EXPECT_EQ(dose_of(history, "2MR", after(21)).gap_days(), 0.0);
  EXPECT_NEAR(dose_of(history, "2MR", after(40)).gap_days(), 21.0, 1e-12) << "the last run was on day 18";
}

TEST(AsTrained, TakesTheRampFromTheLastTwoWeeks) {
  HistoryMaker maker(kBegins);
  maker.weeks(kBegins, 4, "deadlift", 2).weeks(after(14), 1, "intervals", 2);
  maker.run(after(20), 3.0, 1500.0, false);
  Candidate candidate;
  candidate.now.hard_sessions = 1;
  candidate.now.longest_run = Metres(1000.0);
  const Candidate now = as_trained(candidate, model(), maker.made(), after(28));
  EXPECT_EQ(now.now.hard_sessions, 3) << "days 14, 16 and 20";
  EXPECT_EQ(now.now.minutes, (4 * 45 + 2 * 35 + 25) / 2 + 1) << "rounded";
  ASSERT_TRUE(now.now.longest_run);
  EXPECT_NEAR(now.now.longest_run->value(), 3.0 * kMetresPerMile, 1e-9);
}

TEST(AsTrained, LeavesTheFileAloneWhereTheRecordIsShort) {
  Candidate candidate;
  candidate.now.hard_sessions = 2;
  candidate.now.minutes = 120;
  const History history = HistoryMaker(kBegins).work(kBegins, "deadlift").made();
  const Candidate now = as_trained(candidate, model(), history, after(3));
  EXPECT_EQ(now.now.hard_sessions, 2);
  EXPECT_EQ(now.now.minutes, 120);
  EXPECT_FALSE(now.now.longest_run);
}

TEST(AsTrained, AfterALostMonthThePersonStartsAnew) {
  const History history = HistoryMaker(kBegins).weeks(kBegins, 4, "intervals", 3).made();
  Candidate candidate;
  candidate.now.longest_run = Metres(9000.0);
  const Candidate now = as_trained(candidate, model(), history, after(60));
  EXPECT_EQ(now.now.hard_sessions, 0);
  EXPECT_EQ(now.now.longest_run->value(), 0.0);
  ASSERT_TRUE(now.now.off);
  EXPECT_EQ(now.now.off->from, after(26)) << "the last session was on day 25";
  EXPECT_EQ(now.now.off->to, after(59));
}

// 3 × 35 minutes in each of the weeks before; fourteen days off are days off, thirteen are not.
TEST(AsTrained, KnowsWhatWasUsualBeforeTwoLostWeeks) {
  const History history = HistoryMaker(kBegins).weeks(kBegins, 4, "intervals", 3).made();
  EXPECT_FALSE(as_trained({}, model(), history, after(39)).now.off);
  const Candidate now = as_trained({}, model(), history, after(40));
  ASSERT_TRUE(now.now.off);
  EXPECT_EQ((now.now.off->to - now.now.off->from).count(), 13);
  EXPECT_EQ(now.now.minutes, 3 * 35);
}

}  // namespace
}  // namespace backplan

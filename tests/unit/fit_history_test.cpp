// The fit from the journal: what it learns, and what must never happen.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "backplan/planner.hpp"
#include "backplan/progress.hpp"
#include "backplan/strength.hpp"
#include "io/readers.hpp"
#include "io/value_text.hpp"
#include "property/shipped_data.hpp"
#include "support/histories.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using support::HistoryMaker;

const Model& model() { return testing::shipped_model(); }
const Rules& rules() { return testing::shipped_rules(); }
const Standard& standard() { return testing::shipped_standard("us-army-aft"); }

const Date kBegins = test::day(2026, 6, 1);
Date after(int days) { return kBegins + Days(days); }

DatedResult result(const std::string& event, double value, Date date) {
  DatedResult out;
  out.event = event;
  out.value = value;
  out.date = date;
  out.setting = Setting::record;
  return out;
}

Candidate person() {
  Candidate candidate;
  candidate.id = "invented";
  candidate.birth_date = test::day(2002, 5, 1);
  candidate.column = "male";
  candidate.standard = standard().id;
  candidate.category = "general";
  candidate.test_date = after(300);
  candidate.week = {60, 60, 0, 60, 60, 0, 0};
  candidate.target.total = Points::whole(300);
  candidate.results = {result("MDL", 220.0, kBegins - Days(3)), result("HRP", 30.0, kBegins - Days(3)),
                       result("SDC", 130.0, kBegins - Days(3)), result("PLK", 120.0, kBegins - Days(3)),
                       result("2MR", 1000.0, kBegins - Days(3))};
  return candidate;
}

struct Fitted {
  EventState state;
  FitReport report;
};

Fitted fit(const History& history, const std::string& event, Date as_of,
           const Candidate& candidate = person()) {
  const Fit all = fit_history(candidate, standard(), model(), as_of, history);
  for (std::size_t e = 0; e < all.states.size(); ++e) {
    if (all.states[e].event->id == event) return {all.states[e], all.reports[e]};
  }
  throw std::runtime_error("no event " + event);
}

double sd_of(const EventState& state) {
  double variance = 0.0;
  for (const auto& node : state.nodes) {
    variance += node.weight * (node.var_v0 + std::pow(node.v0 - state.v0, 2));
  }
  return std::sqrt(variance);
}

// The three-repetition maximum as a load for five repetitions with two left.
double load_for_five(double three) { return three / read_set({5, Pounds(1.0), 2.0})->three_rep_max.value(); }

// Three months of two deadlift days a week whose sets grow by this much of v a week.
HistoryMaker growing(double a_week) {
  HistoryMaker maker(kBegins);
  maker.weeks(kBegins, 13, "push_up", 2).weeks(kBegins, 13, "intervals", 2);
  for (int week = 0; week < 13; ++week) {
    const double three = 220.0 * std::exp(a_week * week);
    maker.lift(after(7 * week), load_for_five(three), 5, 2.0);
    maker.lift(after(7 * week + 3), load_for_five(three), 5, 2.0);
  }
  return maker;
}

TEST(FitHistory, WithoutAJournalGivesTheStatesAsBefore) {
  const auto before = fit_progress(person(), standard(), model(), after(20));
  const auto now = fit_progress(person(), standard(), model(), after(20), History{});
  ASSERT_EQ(before.size(), now.size());
  for (std::size_t e = 0; e < before.size(); ++e) {
    EXPECT_EQ(before[e].v0, now[e].v0);
    for (std::size_t i = 0; i < before[e].nodes.size(); ++i) {
      EXPECT_EQ(before[e].nodes[i].h, now[e].nodes[i].h);
      EXPECT_EQ(before[e].nodes[i].weight, now[e].nodes[i].weight);
      EXPECT_EQ(before[e].nodes[i].var_v0, now[e].nodes[i].var_v0);
    }
  }
}

// A record that says nothing of the level must hardly change it, nor its spread.
TEST(FitHistory, ARecordOfOneMissedDayChangesNextToNothing) {
  const History history = HistoryMaker(kBegins).add(kBegins, Missed{}).made();
  const auto before = fit_progress(person(), standard(), model(), after(1));
  const auto now = fit_progress(person(), standard(), model(), after(1), history);
  for (std::size_t e = 0; e < before.size(); ++e) {
    EXPECT_NEAR(now[e].v0, before[e].v0, 1e-9);
    EXPECT_NEAR(sd_of(now[e]), sd_of(before[e]), 0.02 * sd_of(before[e]));
    EXPECT_NEAR(now[e].mean(8.0, 0.0), before[e].mean(8.0, 0.0), 0.05 * before[e].nodes[2].h);
  }
}

TEST(FitHistory, LearnsWhoAnswersFastAndWhoSlowly) {
  const Fitted fast = fit(growing(0.028).made(), "MDL", after(91));
  const Fitted slow = fit(growing(0.0).made(), "MDL", after(91));
  EXPECT_GT(fast.report.speed_ratio, 1.3);
  EXPECT_LT(slow.report.speed_ratio, 0.6);
  EXPECT_GT(fast.state.mean(10.0, 0.0) - fast.state.v0, slow.state.mean(10.0, 0.0) - slow.state.v0);
  EXPECT_NEAR(fast.report.now_result, 220.0 * std::exp(0.028 * 12), 15.0);
  EXPECT_NEAR(slow.report.now_result, 220.0, 8.0);
  EXPECT_GT(fast.report.s, 5.0);
  EXPECT_TRUE(fast.report.flagged.empty());
  EXPECT_GT(fast.report.now_high80, fast.report.now_result);
  EXPECT_LT(fast.report.now_low80, fast.report.now_result);
}

TEST(FitHistory, TheSharesOfTheInformationSumToOneAndMoveToTheLog) {
  double before = -1.0;
  for (const int days : {1, 14, 42, 91}) {
    History history = growing(0.01).made();
    auto& entries = history.entries;
    entries.erase(std::remove_if(entries.begin(), entries.end(),
                                 [&](const Done& done) { return done.date >= after(days); }),
                  entries.end());
    const FitReport report = fit(history, "MDL", after(days)).report;
    EXPECT_NEAR(report.share_log + report.share_results + report.share_prior, 1.0, 1e-12);
    EXPECT_GE(report.share_results, 0.0);
    EXPECT_GE(report.share_prior, 0.0);
    EXPECT_GT(report.share_log, before) << days;
    before = report.share_log;
  }
  EXPECT_GT(before, 0.3);
}

TEST(FitHistory, DoesNotDependOnTheOrderOfTheEntries) {
  History history = growing(0.008).made();
  for (int week = 0; week < 13; ++week) {
    HistoryMaker more(kBegins);
    more.run(after(7 * week + 1), 1.5, 720.0 - 4 * week, week % 2 == 0);
    Done one = more.made().entries.front();
    one.id = support::id_number(1000 + week);
    history.entries.push_back(one);
  }
  Candidate several = person();
  several.results.push_back(result("MDL", 211.0, kBegins - Days(40)));
  several.results.push_back(result("MDL", 227.0, kBegins - Days(3)));
  const Fit first = fit_history(several, standard(), model(), after(91), history);
  History turned = history;
  std::reverse(turned.entries.begin(), turned.entries.end());
  History dealt;
  dealt.begins = history.begins;
  for (std::size_t start = 0; start < 7; ++start) {
    for (std::size_t i = start; i < history.entries.size(); i += 7)
      dealt.entries.push_back(history.entries[i]);
  }
  Candidate other_order = several;
  std::reverse(other_order.results.begin(), other_order.results.end());
  const std::vector<Fit> others{fit_history(several, standard(), model(), after(91), turned),
                                fit_history(several, standard(), model(), after(91), dealt),
                                fit_history(other_order, standard(), model(), after(91), history)};
  for (const Fit& other : others) {
    for (std::size_t e = 0; e < first.states.size(); ++e) {
      EXPECT_EQ(first.states[e].v0, other.states[e].v0);
      for (std::size_t i = 0; i < first.states[e].nodes.size(); ++i) {
        EXPECT_EQ(first.states[e].nodes[i].k, other.states[e].nodes[i].k);
        EXPECT_EQ(first.states[e].nodes[i].weight, other.states[e].nodes[i].weight);
        EXPECT_EQ(first.states[e].nodes[i].h, other.states[e].nodes[i].h);
        EXPECT_EQ(first.states[e].nodes[i].cov, other.states[e].nodes[i].cov);
      }
      EXPECT_EQ(first.reports[e].share_log, other.reports[e].share_log);
    }
  }
}

TEST(FitHistory, ABoundNeverLowersTheEstimate) {
  const History without = growing(0.008).made();
  const Fitted before = fit(without, "MDL", after(91));
  for (int pounds = 100; pounds < 320; pounds += 10) {
    HistoryMaker maker = growing(0.008);
    maker.lift(after(89), pounds, 5, std::nullopt);
    const Fitted with = fit(maker.made(), "MDL", after(91));
    EXPECT_GE(with.state.v0, before.state.v0 - 1e-6) << pounds << " lb";
  }
}

TEST(FitHistory, ALowBoundChangesNothingAndAHighOneRaises) {
  const auto with = [](double pounds) {
    HistoryMaker maker(kBegins);
    maker.add(kBegins, Missed{}).lift(after(6), pounds, 5, std::nullopt);
    return fit(maker.made(), "MDL", after(8)).state.v0;
  };
  HistoryMaker none(kBegins);
  none.add(kBegins, Missed{}).work(after(6), "deadlift");
  EXPECT_NEAR(with(120.0), fit(none.made(), "MDL", after(8)).state.v0, 1e-6);
  EXPECT_GT(with(230.0), with(120.0) + 0.01);
}

// The same set each week, reserve not told, at what the person is known to lift. Were each an independent
// proof, the level would climb far above the set; what the readings have in common keeps it near.
TEST(FitHistory, ARepeatedBoundDoesNotAddUpToCertainty) {
  const SetReading reading = *read_set({5, Pounds(200.0), std::nullopt});
  const auto with_bounds = [&](int bounds) {
    HistoryMaker maker(kBegins);
    // Twenty-two minutes a week just hold the level, so that nothing but the bounds speaks.
    for (int week = 0; week < 30; ++week) {
      if (week >= 30 - bounds) {
        maker.lift(after(7 * week), 200.0, 5, std::nullopt, 22);
      } else {
        maker.work(after(7 * week), "deadlift", 22);
      }
    }
    Candidate candidate = person();
    candidate.results = {result("MDL", reading.three_rep_max.value(), kBegins - Days(3))};
    return fit(maker.made(), "MDL", after(210), candidate);
  };
  const Fitted none = with_bounds(0);
  const Fitted one = with_bounds(1);
  const Fitted many = with_bounds(30);
  EXPECT_EQ(many.report.bounds, 30);
  EXPECT_GT(one.state.v0, none.state.v0);
  EXPECT_LT(many.state.v0 - none.state.v0, 3.0 * reading.sd);
  EXPECT_GT(sd_of(many.state), 0.8 * sd_of(one.state)) << "thirty times the same is not thirty proofs";
}

TEST(FitHistory, OnlyTheStrongestBoundOfAWeekCounts) {
  HistoryMaker maker(kBegins);
  maker.lift(after(7), 200.0, 5, std::nullopt).lift(after(9), 210.0, 5, std::nullopt);
  maker.lift(after(11), 190.0, 5, std::nullopt);
  HistoryMaker alone(kBegins);
  alone.work(after(7), "deadlift").lift(after(9), 210.0, 5, std::nullopt).work(after(11), "deadlift");
  alone.made().begins = kBegins;
  const Fitted all = fit(maker.made(), "MDL", after(14));
  EXPECT_EQ(all.report.bounds, 1);
  EXPECT_NEAR(all.state.v0, fit(alone.made(), "MDL", after(14)).state.v0, 1e-9);
}

TEST(FitHistory, AnEntryFarOffIsKeptFlaggedAndHardlyCounts) {
  const Fitted clean = fit(growing(0.008).made(), "MDL", after(91));
  HistoryMaker maker = growing(0.008);
  maker.result(after(85), "MDL", 440.0);  // typed twice what it was
  const Fitted with = fit(maker.made(), "MDL", after(91));
  ASSERT_EQ(with.report.flagged.size(), 1U);
  EXPECT_EQ(with.report.flagged[0].id, maker.made().entries.back().id);
  EXPECT_NEAR(with.report.flagged[0].says, 440.0, 1e-9);
  EXPECT_NEAR(with.report.flagged[0].expected, clean.report.now_result, 15.0);
  EXPECT_NE(with.report.flagged[0].reason.find("standard deviations better"), std::string::npos);
  // By the spread that it was judged by, not by the one that it counts with since.
  const std::string& reason = with.report.flagged[0].reason;
  const auto off = io::read_decimal(reason.substr(0, reason.find(' ')));
  ASSERT_TRUE(off) << reason;
  EXPECT_GT(*off, 4.0) << reason;
  EXPECT_EQ(with.report.readings, clean.report.readings + 1);
  EXPECT_NEAR(with.state.v0, clean.state.v0, 0.2 * sd_of(clean.state));
}

TEST(FitHistory, ABoundFarTooHighIsFlaggedToo) {
  HistoryMaker maker = growing(0.008);
  maker.lift(after(86), 500.0, 5, std::nullopt);
  const Fitted with = fit(maker.made(), "MDL", after(91));
  ASSERT_EQ(with.report.flagged.size(), 1U);
  EXPECT_NEAR(with.state.v0, fit(growing(0.008).made(), "MDL", after(91)).state.v0, 0.3 * sd_of(with.state));
}

TEST(FitHistory, LearnsThatAPersonsSetsReadHigh) {
  HistoryMaker maker(kBegins);
  for (int week = 0; week < 12; ++week) {
    maker.lift(after(7 * week), load_for_five(235.0), 5, 2.0);           // promises 235 lb,
    if (week % 3 == 0) maker.result(after(7 * week + 4), "MDL", 220.0);  // is 220
  }
  const Fitted found = fit(maker.made(), "MDL", after(84));
  ASSERT_TRUE(found.report.conversion);
  EXPECT_GT(found.report.conversion->found, 0.02);
  EXPECT_LT(found.report.conversion->found_sd, found.report.conversion->assumed_sd);
  EXPECT_LT(found.report.now_result, 229.0);
}

TEST(FitHistory, LearnsHowFarSelfCountedResultsAreOff) {
  HistoryMaker maker(kBegins);
  maker.weeks(kBegins, 12, "push_up", 1);
  for (int week = 0; week < 12; ++week) {
    maker.result(after(7 * week + 1), "HRP", 30.0, Setting::record);
    maker.result(after(7 * week + 4), "HRP", 39.0, Setting::self);  // the model expects 33
  }
  const Fitted found = fit(maker.made(), "HRP", after(84));
  ASSERT_TRUE(found.report.setting);
  EXPECT_GT(found.report.setting->found, 0.08);
  EXPECT_NEAR(found.report.now_result, 30.5, 1.5);
}

TEST(FitHistory, LearnsAPersonsExponentOfTimeOverDistance) {
  HistoryMaker maker(kBegins);
  for (int week = 0; week < 10; ++week) {
    maker.result(after(7 * week), "2MR", 1000.0);
    maker.run(after(7 * week + 3), 1.0, 1000.0 * std::pow(0.5, 1.14) * 0.97,
              true);  // fresh runs read 3 % fast
  }
  const Fitted found = fit(maker.made(), "2MR", after(70));
  ASSERT_TRUE(found.report.exponent);
  EXPECT_EQ(found.report.exponent->assumed, 1.06);
  EXPECT_GT(found.report.exponent->found, 1.08);
  EXPECT_LT(found.report.exponent->found, 1.14) << "shrunk towards the published one";
  EXPECT_FALSE(fit(growing(0.01).made(), "2MR", after(91)).report.exponent);
}

TEST(FitHistory, WhatTheJournalSaysAgainOfTheFileCountsOnce) {
  HistoryMaker maker(kBegins - Days(10));
  maker.add(kBegins - Days(10), Missed{});
  const Fitted once = fit(maker.made(), "MDL", after(0));
  maker.result(kBegins - Days(3), "MDL", 220.0);
  const Fitted twice = fit(maker.made(), "MDL", after(0));
  EXPECT_EQ(once.report.readings, twice.report.readings);
  EXPECT_EQ(once.state.v0, twice.state.v0);
}

// Growth from today: after the change of origin the curve must be the one that was fitted.
TEST(FitHistory, TheStateStartsFromTodayWithWhatIsLeft) {
  const Fitted early = fit(growing(0.01).made(), "MDL", after(91));
  for (const auto& node : early.state.nodes) {
    EXPECT_GE(node.h, 0.0);
    EXPECT_GT(node.var_v0, 0.0);
    EXPECT_GE(node.var_v0 * node.var_h, node.cov * node.cov * (1.0 - 1e-9));
  }
  double left = 0.0;
  for (const auto& node : early.state.nodes) left += node.weight * node.h;
  EXPECT_LT(left, early.report.headroom.found) << "a part of the headroom is in the level";
  EXPECT_EQ(early.state.mean(0.0, 0.0), early.state.v0);
}

TEST(FitHistory, ALostMonthLowersTheLevelAndMostComesBack) {
  HistoryMaker maker(kBegins);
  maker.weeks(kBegins, 6, "intervals", 2).weeks(kBegins, 6, "tempo", 1);
  const Date back = after(42 + 45);
  const Fitted lost = fit(maker.made(), "2MR", back);
  const Fitted held = fit(maker.made(), "2MR", after(42));
  EXPECT_GT(lost.state.lost, 0.03);
  EXPECT_NEAR(lost.state.v0, held.state.v0 - lost.state.lost, 0.01);
  const YieldReport report = work_out_yield(person(), {standard(), model(), rules()}, back, maker.made());
  const auto run = std::find_if(report.now.events.begin(), report.now.events.end(),
                                [](const EventOutlook& event) { return event.event == "2MR"; });
  EXPECT_LT(run->test_day_result, *run->now_result) << "what was lost comes back until the test";
}

TEST(FitHistory, PlansStartFromTheFittedState) {
  PlanOptions options;
  options.prove = options.ways_out = options.write_out = false;
  Candidate candidate = person();
  candidate.test_date = after(91 + 56);
  const Knowledge knowledge{standard(), model(), rules()};
  const Plan fast = make_plan(candidate, knowledge, after(91), growing(0.028).made(), options);
  const Plan slow = make_plan(candidate, knowledge, after(91), growing(0.0).made(), options);
  EXPECT_GT(*fast.outlook.events[0].now_result, *slow.outlook.events[0].now_result + 20.0);
  EXPECT_GT(fast.outlook.total.mean, slow.outlook.total.mean);
  const Plan none = make_plan(candidate, knowledge, after(91), History{}, options);
  const Plan before = make_plan(candidate, knowledge, after(91), options);
  EXPECT_EQ(none.outlook.total.mean, before.outlook.total.mean);
}

}  // namespace
}  // namespace backplan

#include <gtest/gtest.h>

#include <sstream>
#include <string>

#include "backplan/outlook.hpp"
#include "report/plan_text.hpp"
#include "report/score_text.hpp"
#include "report/show_text.hpp"
#include "report/standard_text.hpp"
#include "report/table.hpp"
#include "report/words.hpp"
#include "report/yield_text.hpp"
#include "support/small_plan.hpp"
#include "support/small_standard.hpp"
#include "support/text.hpp"

namespace backplan::report {
namespace {

using support::holds;
using support::small_model;
using support::small_plan;
using support::small_standard;

std::size_t widest_line(const std::string& text) {
  std::istringstream lines(text);
  std::size_t widest = 0;
  for (std::string line; std::getline(lines, line);) widest = std::max(widest, width_of(line));
  return widest;
}

struct SmallTest {
  Standard standard = small_standard();
  Model model = small_model();
  Names names{standard, model};
};

TEST(SayChance, NeverSaysMoreThanThereIs) {
  EXPECT_EQ(say_chance(0.8), "8 in 10");
  EXPECT_EQ(say_chance(0.84), "8 in 10");
  EXPECT_EQ(say_chance(0.799), "nearly 8 in 10");
  EXPECT_EQ(say_chance(0.73), "7 in 10");
  EXPECT_EQ(say_chance(0.949), "94 in 100");
  EXPECT_EQ(say_chance(0.95), "95 in 100");
  EXPECT_EQ(say_chance(0.989), "98 in 100");
  EXPECT_EQ(say_chance(0.99), "over 99 in 100");
  EXPECT_EQ(say_chance(1.0), "over 99 in 100");
  EXPECT_EQ(say_chance(0.1), "1 in 10");
  EXPECT_EQ(say_chance(0.07), "7 in 100");
  EXPECT_EQ(say_chance(0.0), "under 1 in 100");
}

// The planner names a change only where it makes a step (core/ways_out.cpp).
TEST(SayChance, ReadsTheSameJustWhereTheStepIsTheSame) {
  for (int i = 1; i <= 2000; ++i) {
    const double a = (i - 1) / 2000.0;
    const double b = i / 2000.0;
    EXPECT_EQ(say_chance(a) == say_chance(b), chance_step(a) == chance_step(b)) << a;
    EXPECT_LE(chance_step(a), chance_step(b)) << a;
  }
}

TEST(SayTotal, SaysWhichTestDaysATotalLeavesOut) {
  const TotalOutlook total{349.4, 328.0, 371.6, {}};
  EXPECT_EQ(say_total(total, 0.3), "about 349, 8 in 10 between 328 and 372");
  EXPECT_EQ(say_total({}, 0.0), "none");
  EXPECT_EQ(total_note(0.95), "");
  EXPECT_EQ(total_note(0.3), "A total counts only test days with every event on its scale: 3 in 10.");
  EXPECT_EQ(
      total_note(0.97, "at today's levels", 0.4),
      "A total counts only test days with every event on its scale: 97 in 100, at today's levels 4 in 10.");
  EXPECT_EQ(say_total({335.0, 315.0, 357.0, {}}, 0.009), "none");  // says nothing of the other 99 in 100
  EXPECT_EQ(say_mean_total({335.0, 315.0, 357.0, {}}, 0.01), "about 335");
}

Event event_in(Unit unit, Direction direction, double resolution) {
  Event event;
  event.unit = unit;
  event.direction = direction;
  event.resolution = resolution;
  return event;
}

TEST(SayStep, NamesTheWayToTheBetterResult) {
  EXPECT_EQ(say_step(170, 180, event_in(Unit::pound, Direction::more_is_better, 10)), "10 lb more");
  EXPECT_EQ(say_step(932, 920, event_in(Unit::second, Direction::less_is_better, 1)), "12 s faster");
  EXPECT_EQ(say_step(100, 165, event_in(Unit::second, Direction::more_is_better, 1)), "1:05 longer");
  EXPECT_EQ(say_step(40, 41, event_in(Unit::repetition, Direction::more_is_better, 1)), "1 more");
}

TEST(SayStep, IsOfTheEventsOwnResolution) {
  EXPECT_EQ(say_step(11.9, 11.88, event_in(Unit::second, Direction::less_is_better, 0.01)), "0.02 s faster");
  EXPECT_EQ(say_step(48.5, 47.9, event_in(Unit::second, Direction::less_is_better, 0.1)), "0.6 s faster");
}

TEST(ShowText, WorkOfAnotherKindIsNoPartOfADay) {
  const Plan plan = small_plan();
  const PlannedDay* day = nullptr;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& one : week.days) {
      if (day == nullptr && !one.blocks.empty()) day = &one;
    }
  }
  ASSERT_NE(day, nullptr);
  Done done;
  done.date = day->date;
  WorkDone work;
  work.work = "something_else";
  done.what = work;
  EXPECT_EQ(marks_of(plan, {done}, day->date + Days(1)).at(day->date), "other work logged");
  work.work = day->blocks.front().work;
  done.what = work;
  EXPECT_EQ(marks_of(plan, {done}, day->date + Days(1)).at(day->date).rfind("done", 0), 0U);
}

TEST(WeeksUntil, CountsDaysWhenTheTestIsNear) {
  const Date day = small_plan().as_of;
  EXPECT_EQ(weeks_until(day, day), "today");
  EXPECT_EQ(weeks_until(day, day + Days(1)), "tomorrow");
  EXPECT_EQ(weeks_until(day, day + Days(13)), "in 13 days");
  EXPECT_EQ(weeks_until(day, day + Days(14)), "in 2 weeks");
  EXPECT_EQ(weeks_until(day, day + Days(99)), "in 14 weeks and 1 day");
}

TEST(Wrap, KeepsLinesWithinTheWidthAndLosesNoWord) {
  EXPECT_EQ(wrap("aa bb cc dd", 8, "  ", "- "), "- aa bb\n  cc dd\n");
  EXPECT_EQ(wrap("a-very-long-word b", 8, "  ", "- "), "- a-very-long-word\n  b\n");
}

TEST(Printable, LeavesNoControlCharacterForATerminal) { EXPECT_EQ(printable("a\x1b[31m\nb"), "a?[31m?b"); }

TEST(Table, StandsStraightWithoutSpacesAtLineEnds) {
  Table table({Align::left, Align::right, Align::left});
  table.add({"a", "100", "x"});
  table.add({"bbb", "7", ""});
  EXPECT_EQ(table.text("  "), "  a    100  x\n  bbb    7\n");
  EXPECT_THROW(table.add({"short"}), std::logic_error);
}

TEST(PlanText, AnswersFirstAndKeepsToThePage) {
  const SmallTest test;
  const std::string text = plan_text(small_plan(), test.names);
  EXPECT_LE(widest_line(text), kPageWidth);
  EXPECT_TRUE(holds(text, "No, not by this date.")) << text;
  EXPECT_TRUE(holds(text, "8 in 10 asked.")) << text;
  EXPECT_TRUE(holds(text, "about 231, 8 in 10 between 222 and 240; at today's levels about 219")) << text;
  EXPECT_LT(text.find("Will it be enough?"), text.find("Ways out"));
  EXPECT_LT(text.find("Ways out"), text.find("What each event must bring"));
  EXPECT_LT(text.find("What each event must bring"), text.find("The minutes it takes"));
  EXPECT_LT(text.find("The minutes it takes"), text.find("The weeks"));
}

TEST(PlanText, MarksEachDoubtfulFigureAndExplainsTheMarks) {
  const SmallTest test;
  const std::string text = plan_text(small_plan(), test.names);
  EXPECT_TRUE(holds(text, "171 lb       74~    184 lb      80 ")) << text;
  EXPECT_TRUE(holds(text, "none*")) << text;
  EXPECT_TRUE(holds(text, "\n~ rests on")) << text;
  EXPECT_TRUE(holds(text, "\n* never measured")) << text;
  EXPECT_FALSE(holds(text, "\n? rests on")) << text;  // the only remembered row is below the scale
}

TEST(PlanText, SaysOfEachWayOutWhereNoneWasFound) {
  const SmallTest test;
  Plan plan = small_plan();
  plan.enough = false;
  plan.ways_out = WaysOut{};
  plan.ways_out->last_date_tried = plan.test_date + Days(364);
  plan.ways_out->most_minutes_tried = 390;
  plan.ways_out->tried = {"longer days", "one more day"};
  EXPECT_TRUE(holds(plan_text(plan, test.names),
                    "Ways out\n"
                    "  - Within reach by this date, 8 in 10: no total with every minimum.\n"
                    "  - No later date would do: dates to Mon 6 Mar 2028 were tried.\n"
                    "  - No more minutes on these days would do: up to 390 a week were tried.\n"
                    "  - No single change that was tried helps: longer days, one more day.\n"
                    "  - Measure what was never measured, or ask for less.\n"))
      << plan_text(plan, test.names);
  plan.ways_out->minutes_per_week = 300;
  EXPECT_FALSE(holds(plan_text(plan, test.names), "Measure what was never measured"));
}

TEST(PlanText, GivesWeeksTheirYearWhereThePlanIsLong) {
  const SmallTest test;
  Plan plan = small_plan();
  EXPECT_EQ(week_date(plan, plan.test_date), "Mon 8 Mar");
  plan.weeks.front().starts = plan.test_date - Days(334);
  EXPECT_EQ(week_date(plan, plan.test_date), "Mon 8 Mar 2027");
  EXPECT_LE(widest_line(plan_text(plan, test.names)), kPageWidth);
}

TEST(PlanText, SaysWhichOfTodaysFiguresAreNotTheLatestResult) {
  const SmallTest test;
  Plan plan = small_plan();
  plan.outlook.events.at(0).now_differs = false;
  EXPECT_FALSE(holds(plan_text(plan, test.names), "today: as the test day"));
  plan.outlook.events.at(0).now_differs = true;
  EXPECT_TRUE(holds(plan_text(plan, test.names), "today: as the test day would show it. For MDL that is"))
      << plan_text(plan, test.names);
}

TEST(PlanText, SaysValueBoundAndGap) {
  EXPECT_EQ(optimality_text({412.309, 412.341}),
            "The plan is proven to be within 0.04 points of the best under these rules: it is worth 412.31,\n"
            "and no plan of these minutes and deload weeks can be worth more than 412.34.\n");
}

TEST(PlanText, SaysWhereTheMinutesGo) {
  const SmallTest test;
  const std::string text = plan_text(small_plan(), test.names);
  EXPECT_TRUE(holds(text, "175 in a usual week, of 285 there are.")) << text;
  EXPECT_TRUE(holds(text, "50 %")) << text;  // 45 of 90 block minutes
}

TEST(WeeksText, HasOneLineForEachWeek) {
  const SmallTest test;
  const std::string text = weeks_text(small_plan(), test.names);
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 3);
  EXPECT_TRUE(holds(text, "177 lb       22:25  ")) << text;
}

TEST(WeekText, SaysWhatWhyAndWhenToStop) {
  const SmallTest test;
  const std::string text = week_text(small_plan().weeks[0], test.names);
  EXPECT_TRUE(holds(text, "5 sets of 5 with 155 lb")) << text;
  EXPECT_TRUE(holds(text, "Why: 4 points in MDL by the test")) << text;
  EXPECT_TRUE(holds(text, "Stop: pain in the back")) << text;
  EXPECT_TRUE(holds(text, "march, 120 min (fixed)")) << text;
  EXPECT_TRUE(holds(text, "at home, rehearsal")) << text;
  EXPECT_TRUE(holds(week_text(small_plan().weeks[1], test.names), "(provisional")) << text;
}

TEST(DayText, KnowsRestDaysAndTheDayOfTheTest) {
  const SmallTest test;
  const Plan plan = small_plan();
  EXPECT_EQ(day_text(plan, plan.test_date, test.names), "A-07: Mon 8 Mar 2027\n  The test.\n");
  EXPECT_EQ(day_text(plan, plan.as_of, test.names), "A-07: Mon 22 Feb 2027\n  No training on this day.\n");
  EXPECT_TRUE(holds(day_text(plan, plan.as_of + Days(1), test.names), "155 lb"));
}

TEST(AssumptionsText, NamesSourceAndStatusOfEach) {
  EXPECT_EQ(assumptions_text(small_plan()),
            "A-07: 2 assumptions that this plan rests on\n\n"
            "  events.MDL.k_per_week = 0.12 (judgement): judgement of the project\n"
            "  background = regular (common practice): not in candidate.json\n");
}

TEST(YieldText, ListsWorkBestFirstWithTheReason) {
  const SmallTest test;
  const Plan plan = small_plan();
  Candidate candidate;
  candidate.id = "A-07";
  candidate.test_date = plan.test_date;
  const std::string text =
      yield_text({{}, plan.yield, plan.without_training}, candidate, plan.as_of, test.names);
  EXPECT_LE(widest_line(text), kPageWidth);
  EXPECT_LT(text.find(test.names.work("intervals")), text.find(test.names.work("deadlift")));
  EXPECT_TRUE(holds(text, "the run is far below")) << text;
  EXPECT_TRUE(holds(text, "4.4 an hour")) << text;
}

TEST(ScaleText, MarksRowsThatAreNotKnownForCertain) {
  const Standard standard = small_standard();
  const std::string text = scale_text(standard, standard.events.front(), "female");
  EXPECT_TRUE(holds(text, "17-21")) << text;
  EXPECT_TRUE(holds(text, "100")) << text;
  EXPECT_LE(widest_line(text), kPageWidth);
}

}  // namespace
}  // namespace backplan::report

// What is printed of a plan, of one that is made again, and of a squad: for every kind of test, and where
// there is little to tell.
#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>
#include <string>

#include "backplan/planner.hpp"
#include "backplan/replan.hpp"
#include "core/programme_parts.hpp"
#include "io/readers.hpp"
#include "report/plan_exports.hpp"
#include "report/plan_text.hpp"
#include "report/replan_text.hpp"
#include "report/squad_words.hpp"
#include "report/words.hpp"
#include "report/yield_text.hpp"
#include "support/small_plan.hpp"
#include "support/small_standard.hpp"
#include "support/standards.hpp"
#include "support/text.hpp"

namespace backplan::report {
namespace {

using support::holds;

struct Desk {
  explicit Desk(const std::string& id) : standard(test::shipped_standard(id)) {}
  Standard standard;
  Model model = io::read_model(io::embedded_data()).value();
  Names names{standard, model};
};

// A week with a block a day, and the results that an event of each unit may have.
Plan plan_of(const Standard& standard) {
  Plan plan;
  plan.candidate = "A-07";
  plan.category = standard.categories.front().id;
  plan.as_of = test::day(2026, 12, 1);
  plan.test_date = test::day(2027, 3, 8);
  PlannedWeek week{14, plan.as_of, 6, Phase::build, 120, false, {}, {}};
  PlannedDay day{plan.as_of, 60, 60, {}, "", 0, {}, ""};
  Block block;
  block.work = "deadlift";
  block.minutes = 45;
  day.blocks.push_back(block);
  week.days.push_back(day);
  for (const Event& event : standard.events) {
    const double result = event.unit == Unit::second ? 252.34 : 7.25;
    week.milestones.push_back({event.id, result});
    EventOutlook outlook;
    outlook.event = event.id;
    outlook.test_day_result = outlook.test_day_low80 = outlook.test_day_high80 = result;
    plan.outlook.events.push_back(outlook);
  }
  plan.weeks.push_back(week);
  return plan;
}

std::size_t widest_line_of(const std::string& text) {
  std::istringstream lines(text);
  std::size_t widest = 0;
  for (std::string line; std::getline(lines, line);) widest = std::max(widest, width_of(line));
  return widest;
}

TEST(PlanScreen, NamesAMinimumOnlyWhereThereIsOne) {
  const Desk many("athletics-decathlon");
  const std::string open = plan_text(plan_of(many.standard), many.names);
  EXPECT_TRUE(holds(open, "on its scale")) << open;
  EXPECT_FALSE(holds(open, "minimum")) << open;
  const auto sheets = plan_sheets(plan_of(many.standard), many.names, {});
  EXPECT_EQ(sheets.back().columns.back().head, "chance on its scale");
  const Desk army("us-army-aft");
  EXPECT_TRUE(holds(plan_text(plan_of(army.standard), army.names), "its minimum"));
  EXPECT_EQ(plan_sheets(plan_of(army.standard), army.names, {}).back().columns.back().head,
            "chance of its minimum");
}

TEST(PlanScreen, KeepsTheWeeksOfTenEventsOnThePage) {
  const Desk many("athletics-decathlon");
  const std::string weeks = weeks_text(plan_of(many.standard), many.names);
  EXPECT_LE(widest_line_of(weeks), kPageWidth) << weeks;
  for (const Event& event : many.standard.events) EXPECT_TRUE(holds(weeks, " " + event.id)) << event.id;
  EXPECT_EQ(support::matches_of(weeks, "(deadlift day)").size(), 1U) << "blocks are told once: " << weeks;
  const Desk army("us-army-aft");
  const std::string one = weeks_text(plan_of(army.standard), army.names);
  EXPECT_EQ(support::matches_of(one, "(week  from)").size(), 1U) << one;
  EXPECT_TRUE(holds(one, "main work")) << one;
}

TEST(PlanScreen, AsksForAMeasurementOnlyWhereOneIsMissing) {
  const Desk army("us-army-aft");
  Plan plan = plan_of(army.standard);
  plan.ways_out = WaysOut{};
  EXPECT_EQ(ways_out_lines(plan, army.names).back(), "Ask for less.");
  plan.outlook.events[1].measured = false;
  EXPECT_EQ(ways_out_lines(plan, army.names).back(), "Measure what was never measured, or ask for less.");
}

TEST(PlanScreen, TellsAChangeWithOneBracket) {
  const Desk army("us-army-aft");
  Plan plan = plan_of(army.standard);
  plan.ways_out = WaysOut{};
  plan.ways_out->best_change = "a test 2 weeks later (about 381 points instead of 375)";
  plan.ways_out->best_change_p_target = 0.01;
  EXPECT_EQ(ways_out_lines(plan, army.names).back(),
            "The one change that helps most: a test 2 weeks later (about 381 points instead of 375); the "
            "target then: 1 in 100.");
}

TEST(PlanScreen, ProvesNothingOfAPlanWithoutTraining) {
  const Desk army("us-army-aft");
  Plan plan = plan_of(army.standard);
  plan.optimality = {400.0, 400.0};
  EXPECT_TRUE(holds(plan_text(plan, army.names), "proven"));
  plan.weeks[0].days[0].blocks.clear();
  plan.weeks[0].days[0].note = "no training";
  const std::string text = plan_text(plan, army.names);
  EXPECT_FALSE(holds(text, "proven")) << text;
  EXPECT_FALSE(holds(text, "minutes it takes")) << text;
  EXPECT_TRUE(holds(text, "The weeks")) << text;
}

TEST(PlanScreen, SaysByHowManyMinutesAYieldIsTold) {
  EXPECT_TRUE(holds(yield_basis(), std::to_string(kMinutesStep) + " minutes more a week"));
}

TEST(ReplanScreen, OfARefusalTellsOfNoChangeAndNoEntry) {
  const Desk army("us-army-aft");
  const Plan old = plan_of(army.standard);
  Replan found;
  found.plan = old;
  found.plan.refused = {"no plan during pregnancy"};
  found.reasons = {"5 planned days count as 85 % done"};
  found.changes.push_back({old.as_of, "deadlift day 45 min", "rest", "", ChangeCause::off, "pregnancy"});
  const std::string text = replan_text(found, old, army.names, {});
  EXPECT_TRUE(holds(text, "No plan is made")) << text;
  for (const char* part : {"What changes", "What the log taught", "85 %", "instead of", "The next"})
    EXPECT_FALSE(holds(text, part)) << part << '\n' << text;
}

// Of one test day in a thousand (plan.hpp, kLeastDaysOfATotal).
TEST(ReplanScreen, TellsATotalBeforeOnlyWhereThePlanToldOne) {
  const Desk army("us-army-aft");
  Plan old = plan_of(army.standard);
  old.outlook.total = {443.0, 432.0, 453.0, {}};
  Replan found;
  found.plan = plan_of(army.standard);
  old.outlook.p_on_scale = 0.001;
  EXPECT_TRUE(holds(replan_text(found, old, army.names, {}), "before: none."));
  old.outlook.p_on_scale = 0.02;
  EXPECT_TRUE(holds(replan_text(found, old, army.names, {}), "before: 443, 432 to 453."));
}

TEST(ReplanScreen, SaysHowManyDaysStayAndAreShown) {
  const Desk army("us-army-aft");
  const Plan old = plan_of(army.standard);
  Replan found;
  found.plan = old;
  found.changes.push_back(
      {old.as_of + Days(9), "rest", "deadlift day 45 min", "", ChangeCause::yield, "pays"});
  const std::string text = replan_text(found, old, army.names, {});
  EXPECT_EQ(kSteadyDays, 3);
  EXPECT_TRUE(holds(text, "Today and the next 2 days stay as they are.")) << text;
  EXPECT_TRUE(holds(text, "The next 7 days")) << text;
}

TEST(ReplanScreen, CountsEventsPassedWhereThereAreNoPoints) {
  const Desk passed("us-army-combat-field-test");
  const Plan old = plan_of(passed.standard);
  Replan found;
  found.plan = old;
  found.plan.outlook.total.mean = 1.24;
  const std::string text = replan_text(found, old, passed.names, {});
  EXPECT_TRUE(holds(text, "Events passed on test day: about 1.2 of")) << text;
  EXPECT_FALSE(holds(text, "Total")) << text;
}

TEST(SquadScreen, SaysThatPeopleWouldPassOnlyWhereThereIsAPassMark) {
  const Desk many("athletics-decathlon");
  const Desk army("us-army-aft");
  EXPECT_STREQ(passing_words(army.standard), "would pass");
  EXPECT_STREQ(passing_words(many.standard), "would be on every scale");
  EXPECT_STREQ(failing_words(many.standard), "Expected below a scale");
  Person person;
  person.p_fail = 0.2;
  person.weakest = Weakest{many.standard.events.front().id, 0.8};
  EXPECT_TRUE(holds(chance_words(person, many.names), "Would be on every scale: 8 in 10."));
  EXPECT_FALSE(holds(event_lines(person, many.names).front(), "minimum"));
  EXPECT_TRUE(holds(event_lines(person, army.names).front(), "its minimum 8 in 10"));
}

TEST(SquadScreen, TheMeanIsOfThoseWhoHaveATotal) {
  Person some;
  some.outlook.total = {400.0, 380.0, 420.0, {}};
  some.outlook.p_on_scale = 1.0;
  Person none = some;
  none.outlook.total.mean = 100.0;
  none.outlook.p_on_scale = 0.001;
  EXPECT_DOUBLE_EQ(outlook_of({some, none}).mean.mean, 400.0);
}

// Two blocks of 45 and 12 minutes and one of 10 at home: 75 minutes with preparation, recovery and the
// change.
TEST(Calendar, ASessionThatHasLostABlockIsShorterByIt) {
  const Desk army("us-army-aft");
  Plan plan = plan_of(army.standard);
  PlannedDay& day = plan.weeks[0].days[0];
  day.session_minutes = 75;
  Block press;
  press.work = "push_up";
  press.minutes = 12;
  Block home = press;
  home.work = "trunk";
  home.size = BlockSize::home;
  home.minutes = 10;
  day.blocks.push_back(press);
  day.blocks.push_back(home);
  const auto minutes = [&](const std::vector<WorkOff>& off) {
    PlanNews news;
    if (!off.empty()) news.off[day.date] = off;
    return plan_calendar(plan, army.names, {7 * 60, false}, "1", news).events.front().minutes;
  };
  EXPECT_EQ(minutes({}), 85);
  EXPECT_EQ(minutes({{"deadlift", "pain (back)", {}}}), 40);
  EXPECT_EQ(minutes({{"trunk", "pain (back)", {}}}), 75);
  EXPECT_EQ(minutes({{"deadlift", "pain", {}}, {"push_up", "pain", {}}}), 10);
}

}  // namespace
}  // namespace backplan::report

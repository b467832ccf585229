// What a plan says beside its weeks: ways out, what slips, cautions, yields, the levels on the way.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "backplan/outlook.hpp"
#include "backplan/planner.hpp"
#include "io/readers.hpp"
#include "io/value_text.hpp"
#include "support/standards.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

using support::holds;

const Date kToday = test::day(2026, 12, 1);

struct Desk {
  Standard standard = test::shipped_standard("us-army-aft");
  Model model = io::read_model(io::embedded_data()).value();
  Rules rules = io::read_rules(io::embedded_data()).value();
  [[nodiscard]] Knowledge knowledge() const { return {standard, model, rules}; }
};

const Desk& desk() {
  static const Desk one;
  return one;
}

// Results in lb, repetitions and seconds, in the order of the test.
Candidate person(const std::string& column, const std::array<double, 5>& results,
                 const std::array<int, 7>& week) {
  constexpr std::array kEvents{"MDL", "HRP", "SDC", "PLK", "2MR"};
  Candidate out;
  out.id = "A-07";
  out.birth_date = test::day(1999, 6, 10);
  out.column = column;
  out.standard = "us-army-aft";
  out.category = "general";
  out.test_date = test::day(2027, 3, 8);
  out.target.total = Points::whole(420);
  for (std::size_t e = 0; e < results.size(); ++e)
    out.results.push_back({kToday - Days(11), kEvents[e], results[e], "", Setting::practice, false});
  out.week = week;
  out.equipment.plates_lb = {45, 45, 45, 45, 25, 25, 10, 10, 5, 5};
  return out;
}

Candidate usual_person() {
  return person("male", {210.0, 32.0, 128.0, 130.0, 1050.0}, {60, 60, 0, 60, 60, 45, 0});
}

// Under the lowest row of every scale, with hardly any minutes.
Candidate far_below() {
  Candidate out = person("female", {90.0, 4.0, 225.0, 50.0, 1540.0}, {40, 0, 40, 0, 40, 30, 0});
  out.background = Background::new_to_training;
  out.target.total = Points::whole(300);
  return out;
}

Plan quick_plan(const Candidate& candidate, bool ways_out = false) {
  PlanOptions options;
  options.prove = false;
  options.ways_out = ways_out;
  return make_plan(candidate, desk().knowledge(), kToday, options);
}

const GivenUp* given_up(const Plan& plan, const std::string& event) {
  const auto found = std::find_if(plan.given_up.begin(), plan.given_up.end(),
                                  [&](const GivenUp& one) { return one.event == event; });
  return found == plan.given_up.end() ? nullptr : &*found;
}

double milestone(const PlannedWeek& week, const std::string& event) {
  for (const Milestone& one : week.milestones) {
    if (one.event == event) return one.result;
  }
  return 0.0;
}

const PlannedWeek& week_of(const Plan& plan, int index) {
  return *std::find_if(plan.weeks.begin(), plan.weeks.end(),
                       [index](const PlannedWeek& week) { return week.index == index; });
}

double number_at(const std::string& text, std::size_t place) {
  return io::read_decimal(text.substr(place, text.find_first_of(" )", place) - place)).value();
}

// What stands before " instead of " is better than what stands behind it.
bool figure_is_better(const std::string& change) {
  const std::string about = "(about ";
  const std::string instead = " instead of ";
  const std::size_t after = change.find(about);
  const std::size_t before = change.find(instead);
  if (after == std::string::npos || before == std::string::npos) return false;
  return number_at(change, after + about.size()) > number_at(change, before + instead.size());
}

TEST(WaysOut, NameAChangeOnlyWhereWhatIsPrintedOfItIsBetter) {
  Candidate nearly_all = person("male", {340.0, 60.0, 90.0, 218.0, 805.0}, {90, 90, 60, 90, 90, 60, 0});
  nearly_all.background = Background::long_trained;
  nearly_all.aim = Aim::highest;
  nearly_all.target.total = Points::whole(498);
  Candidate usual = usual_person();
  usual.target.total = Points::whole(460);
  int judged = 0;
  for (const Candidate& candidate : {far_below(), nearly_all, usual}) {
    const Plan plan = quick_plan(candidate, true);
    ASSERT_TRUE(plan.ways_out);
    const WaysOut& ways = *plan.ways_out;
    EXPECT_GT(ways.tried.size(), 2U);
    if (ways.best_change.empty()) continue;
    EXPECT_TRUE(chance_step(ways.best_change_p_target) > chance_step(plan.outlook.p_target) ||
                figure_is_better(ways.best_change))
        << ways.best_change;
    ++judged;
  }
  EXPECT_GT(judged, 0);
}

TEST(WaysOut, SayHowFarTheySearchedWhereNothingWasFound) {
  const Plan plan = quick_plan(far_below(), true);
  ASSERT_TRUE(plan.ways_out);
  EXPECT_FALSE(plan.ways_out->earliest_date);
  EXPECT_EQ(plan.ways_out->last_date_tried, far_below().test_date + Days(7 * 52));
  EXPECT_FALSE(plan.ways_out->minutes_per_week);
  EXPECT_EQ(plan.ways_out->most_minutes_tried, 150 + 4 * 60);
}

TEST(WaysOut, NameASpellByItsDatesAndLeaveAFieldExerciseAlone) {
  Candidate blocked = usual_person();
  blocked.blocked = {{test::day(2027, 1, 4), test::day(2027, 1, 15), BlockedKind::light, "range"},
                     {test::day(2027, 2, 1), test::day(2027, 2, 21), BlockedKind::rest, ""}};
  const Plan rests = quick_plan(blocked, true);
  ASSERT_TRUE(rests.ways_out);
  EXPECT_TRUE(holds(rests.ways_out->best_change, "the rest spell from 1 Feb 2027 to 21 Feb 2027"))
      << rests.ways_out->best_change;
  const auto moved = [](const Plan& plan) {
    return std::count(plan.ways_out->tried.begin(), plan.ways_out->tried.end(), "rest at another time");
  };
  EXPECT_EQ(moved(rests), 1);
  // A field exercise is not in a candidate's hand, and light duty has a reason that no plan may argue with.
  for (const BlockedKind kind : {BlockedKind::field, BlockedKind::light}) {
    blocked.blocked = {{test::day(2027, 2, 1), test::day(2027, 2, 21), kind, ""}};
    const Plan stays = quick_plan(blocked, true);
    ASSERT_TRUE(stays.ways_out);
    EXPECT_EQ(moved(stays), 0);
  }
}

TEST(WaysOut, NameOnlyHomeWorkThatAProfilePermits) {
  // No day has time, so that short blocks at home are all that helps.
  Candidate profile = person("male", {210.0, 32.0, 128.0, 130.0, 1050.0}, {0, 0, 0, 0, 0, 0, 0});
  profile.target = Target{};
  profile.target.events["HRP"] = Points::whole(78);
  profile.medical.status = MedicalStatus::profile;
  profile.medical.permitted = {"push_up"};
  profile.medical.until = profile.test_date + Days(28);
  const Plan plan = quick_plan(profile, true);
  ASSERT_TRUE(plan.ways_out);
  EXPECT_TRUE(holds(plan.ways_out->best_change, "3 short blocks of push-ups at home each week"))
      << plan.ways_out->best_change;
}

TEST(GivenUpEvents, SayWhatIsLostByTheTest) {
  const Plan plan = quick_plan(far_below());
  for (const GivenUp& one : plan.given_up) {
    EXPECT_TRUE(holds(one.why, "% by the test")) << one.why;
    EXPECT_FALSE(holds(one.why, "about 0.0 %")) << one.why;
    for (const EventOutlook& event : plan.outlook.events) {
      if (event.event != one.event) continue;
      const Event* known = desk().standard.find_event(one.event);
      if (known->direction == Direction::more_is_better) {
        EXPECT_LE(event.test_day_result, *event.now_result) << one.event;
      } else {
        EXPECT_GE(event.test_day_result, *event.now_result) << one.event;
      }
    }
  }
  EXPECT_NE(given_up(plan, "2MR"), nullptr);
}

// The shortest run takes 25 minutes, 33 with preparation and recovery (data/model).
TEST(GivenUpEvents, SayWhenNoDayIsLongEnough) {
  Candidate short_days = usual_person();
  short_days.week = {20, 20, 0, 20, 20, 20, 0};
  const Plan plan = quick_plan(short_days);
  const GivenUp* run = given_up(plan, "2MR");
  ASSERT_NE(run, nullptr);
  EXPECT_TRUE(holds(run->why, "no day is long enough for its shortest block: that takes 33 minutes"))
      << run->why;
}

TEST(GivenUpEvents, SayWhenAProfileForbidsTheirWork) {
  Candidate profile = usual_person();
  profile.medical.status = MedicalStatus::profile;
  profile.medical.permitted = {"push_up", "trunk"};
  profile.medical.until = profile.test_date + Days(28);
  const Plan plan = quick_plan(profile);
  const GivenUp* run = given_up(plan, "2MR");
  ASSERT_NE(run, nullptr);
  EXPECT_TRUE(holds(run->why, "the profile does not permit its work")) << run->why;
}

// Without bar and sled nothing heavy is lifted; the profile that forbade it has ended.
TEST(GivenUpEvents, BlameNoProfileThatIsOver) {
  Candidate without_bar = usual_person();
  without_bar.equipment.hex_bar = without_bar.equipment.sled = false;
  without_bar.aim = Aim::highest;
  without_bar.week = {30, 0, 0, 0, 30, 0, 0};  // too little of other work to hold it
  without_bar.medical.status = MedicalStatus::profile;
  without_bar.medical.permitted = {"push_up"};
  without_bar.medical.since = kToday - Days(5);
  without_bar.medical.until = kToday - Days(1);
  without_bar.avoid = {{"deadlift", kToday - Days(5), kToday - Days(1), ""}};
  const Plan plan = quick_plan(without_bar);
  const GivenUp* lift = given_up(plan, "MDL");
  ASSERT_NE(lift, nullptr);
  EXPECT_TRUE(holds(lift->why, "its work cannot be done (kit, blocked days or marches)")) << lift->why;
}

// A target far under what there is: the plan leaves most of the minutes unused, so no event takes them from
// another.
TEST(GivenUpEvents, SayWhenTheTargetHoldsWithoutTheirWork) {
  Candidate easy = usual_person();
  easy.target.total = Points::whole(300);
  const Plan plan = quick_plan(easy);
  ASSERT_TRUE(plan.enough);
  ASSERT_FALSE(plan.given_up.empty());
  for (const GivenUp& one : plan.given_up)
    EXPECT_TRUE(holds(one.why, "the target holds without more of its work")) << one.why;
}

bool cautions_hold(const Plan& plan, const std::string& words) {
  return std::any_of(plan.cautions.begin(), plan.cautions.end(),
                     [&](const std::string& one) { return holds(one, words); });
}

TEST(Cautions, SayWhetherTheTestFallsInAProfileOrAfterIt) {
  Candidate profile = usual_person();
  profile.medical.status = MedicalStatus::profile;
  profile.medical.permitted = {"push_up"};
  profile.medical.until = profile.test_date;
  EXPECT_TRUE(cautions_hold(quick_plan(profile), "falls during the profile"));
  profile.medical.until = profile.test_date - Days(1);
  const Plan after = quick_plan(profile);
  EXPECT_FALSE(cautions_hold(after, "during the profile"));
  EXPECT_TRUE(cautions_hold(after, "days of recovery after the profile"));
}

TEST(Cautions, RestateWorkToAvoid) {
  Candidate avoids = usual_person();
  EXPECT_FALSE(cautions_hold(quick_plan(avoids), "work to avoid"));
  avoids.avoid = {{"intervals", kToday, test::day(2026, 12, 20), "shin"}};
  EXPECT_TRUE(cautions_hold(quick_plan(avoids),
                            "Left out, as work to avoid: intervals from 1 Dec 2026 to 20 Dec 2026 (shin)."));
}

// 21 days of field duty, weeks 6 to 4: the run is lost from the eleventh day on and comes back at double rate
// (docs/mathematics.md, "Blocked spells").
TEST(Milestones, FollowWhatABlockedSpellCostsAndWhatComesBack) {
  Candidate away = usual_person();
  away.blocked = {{away.test_date - Days(7 * 6), away.test_date - Days(7 * 3 + 1), BlockedKind::field, ""}};
  const Plan plan = quick_plan(away);
  const double before = milestone(week_of(plan, 7), "2MR");
  const double after = milestone(week_of(plan, 4), "2MR");
  const double r = 0.01;  // of the run, a week
  EXPECT_NEAR(std::log(after / before), r * 11.0 / 7.0, 0.0005);
  EXPECT_LT(milestone(week_of(plan, 3), "2MR"), after);
  // At the end nothing is left of it, as the outlook has it.
  for (const EventOutlook& event : plan.outlook.events) {
    const double end = milestone(plan.weeks.back(), event.event);
    EXPECT_NEAR(end, event.test_day_result, desk().standard.find_event(event.event)->resolution)
        << event.event;
  }
}

// Two years before the test every extra block would have levelled off.
TEST(Yield, FindsEachEventsOwnWorkTheCheapestHoweverFarTheTest) {
  Candidate far = usual_person();
  const std::array<std::pair<const char*, const char*>, 5> own{
      {{"MDL", "deadlift"}, {"HRP", "push_up"}, {"SDC", "shuttle"}, {"PLK", "trunk"}, {"2MR", "intervals"}}};
  for (const int weeks : {8, 102}) {
    far.test_date = kToday + Days(7 * weeks);
    const YieldReport found = work_out_yield(far, desk().knowledge(), kToday);
    for (const auto& [event, work] : own) {
      const auto best = std::max_element(found.rows.begin(), found.rows.end(),
                                         [name = event](const YieldRow& a, const YieldRow& b) {
                                           const auto of = [name](const YieldRow& row) {
                                             const auto at = row.weeks_left.find(name);
                                             return at == row.weeks_left.end() ? 0.0 : at->second;
                                           };
                                           return of(a) < of(b);
                                         });
      EXPECT_EQ(best->work, work) << event << " in " << weeks << " weeks";
    }
  }
}

const YieldRow& yield_of(const YieldReport& report, const std::string& work) {
  return *std::find_if(report.rows.begin(), report.rows.end(),
                       [&](const YieldRow& row) { return row.work == work; });
}

// Long marches every other day leave no day for lifts (data/model/rules.json, fixed_work).
TEST(Yield, NamesWhatIsAvoidedOnTheDaysThatAreLeftAndNothingThatIsOver) {
  Candidate marches = usual_person();
  for (const int weekday : {0, 2, 4, 6}) marches.fixed.push_back({weekday, "march", 90, Metres(8000.0)});
  marches.avoid = {{"deadlift", std::nullopt, kToday - Days(1), "back"}};
  const YieldReport over = work_out_yield(marches, desk().knowledge(), kToday);
  EXPECT_FALSE(yield_of(over, "deadlift").possible);
  EXPECT_TRUE(
      holds(yield_of(over, "deadlift").why, "not possible now (the days that are left do not allow it)"))
      << yield_of(over, "deadlift").why;
  marches.avoid = {{"deadlift", std::nullopt, std::nullopt, "back"}};
  const YieldReport avoided = work_out_yield(marches, desk().knowledge(), kToday);
  EXPECT_TRUE(holds(yield_of(avoided, "deadlift").why, "not possible now (back)"))
      << yield_of(avoided, "deadlift").why;
}

TEST(TodaysFigures, AreMarkedWhereTheyDifferFromTheLatestResult) {
  Candidate self_counted = usual_person();
  self_counted.results[1].setting = Setting::self;
  const Plan plan = quick_plan(self_counted);
  EXPECT_FALSE(plan.outlook.events[0].now_differs);
  EXPECT_TRUE(plan.outlook.events[1].now_differs);
}

}  // namespace
}  // namespace backplan

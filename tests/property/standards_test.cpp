// Invented candidates over every shipped standard: the planner plans for each, the independent checker
// passes the plan, and no answer is nonsense.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "backplan/check.hpp"
#include "backplan/planner.hpp"
#include "backplan/suited.hpp"
#include "backplan/test_day.hpp"
#include "io/readers.hpp"
#include "io/test_day_reader.hpp"
#include "property/case_count.hpp"
#include "property/shipped_data.hpp"
#include "support/random_candidates.hpp"

namespace backplan::testing {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 12 / 1};
constexpr int kCandidates = 6;  // of each standard

std::vector<std::string> shipped_ids() {
  std::set<std::string> ids;
  for (const io::DataFile& file : io::embedded_data()) {
    if (file.path.rfind("standards/", 0) == 0) ids.insert(file.path.substr(10, file.path.find('/', 10) - 10));
  }
  return {ids.begin(), ids.end()};
}

// A standard with one event of each choice drawn, and what concerns it.
struct World {
  Standard standard;
  Model model;
  Rules rules;
};

World world_of(const std::string& id, RandomSource& random) {
  const Standard& whole = shipped_standard(id);
  std::vector<std::string> chosen;
  for (const Event& event : whole.events) {
    if (!event.choice.empty() && random.chance(0.5)) chosen.push_back(event.id);
  }
  World world{with_choice(whole, chosen), {}, {}};
  world.model = suited_model(shipped_model(), world.standard);
  world.rules = suited_rules(shipped_rules(), world.model);
  return world;
}

void expect_sense(const Outlook& outlook, const World& world, const Candidate& candidate) {
  const Category& category = *world.standard.find_category(candidate.category);
  ASSERT_EQ(outlook.events.size(), world.standard.events.size());
  for (const double p : {outlook.p_pass, outlook.p_target, outlook.p_on_scale}) {
    EXPECT_GE(p, 0.0);
    EXPECT_LE(p, 1.0 + 1e-9);
  }
  double most = 0.0;
  double least = 0.0;
  for (const EventOutlook& event : outlook.events) {
    const Event& known = *world.standard.find_event(event.event);
    const Scale& scale = *world.standard.scale_for(
        known, candidate.column, age_on(candidate.birth_date, candidate.test_date), category);
    const double top = scale.rows().back().points.value();
    most += top;
    least += std::min(scale.floor().value_or(scale.rows().front().points).value(),
                      scale.rows().front().points.value());
    // A formula goes on above the rows that are planned for.
    const bool open = scale.rows().front().origin == Origin::formula;
    if (event.test_day_points && !open) {
      EXPECT_LE(event.test_day_points->value(), top) << event.event;
    }
    EXPECT_GT(event.test_day_result, 0.0) << event.event;
    const double better = known.direction == Direction::more_is_better ? 1.0 : -1.0;
    EXPECT_LE(better * event.test_day_low80, better * event.test_day_high80) << event.event;
  }
  if (world.standard.total == TotalKind::mean) {
    most /= static_cast<double>(outlook.events.size());
    least /= static_cast<double>(outlook.events.size());
  }
  if (outlook.p_on_scale > 0.0) {
    EXPECT_LE(outlook.total.mean, most + 0.5);
    EXPECT_GE(outlook.total.mean, least - 0.5);
    EXPECT_LE(outlook.total.low80, outlook.total.high80);
  }
}

// Placeholders that nothing filled, ids where a name belongs, figures that are none.
void expect_readable(const std::string& text) {
  for (const char* bad : {"{", "}", "nan", "inf ", "2MR", "HRP", "FIELDTEST", "SHUTTLERUN"})
    EXPECT_EQ(text.find(bad), std::string::npos) << bad << " in: " << text;
}

void expect_sense(const Plan& plan, const World& world, const Candidate& candidate) {
  expect_sense(plan.outlook, world, candidate);
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      for (const Block& block : day.blocks) {
        const WorkKind* kind = world.model.find_work(block.work);
        ASSERT_NE(kind, nullptr) << block.work;
        EXPECT_TRUE(is_work_for(*kind, world.standard)) << block.work;
        EXPECT_FALSE(block.prescription.empty());
        if (world.standard.find_event("2MR") == nullptr) {
          expect_readable(block.prescription);
          expect_readable(block.why);
        }
      }
    }
  }
  for (const Assumption& one : plan.assumptions) EXPECT_FALSE(one.source.empty()) << one.name;
}

class EveryStandard : public ::testing::TestWithParam<std::string> {};

TEST_P(EveryStandard, IsPlannedForWithoutBreakingARuleOrTalkingNonsense) {
  PlanOptions options;
  options.ways_out = false;
  for (int seed = 1; seed <= property_cases(kCandidates); ++seed) {
    RandomSource random(static_cast<std::uint64_t>(seed));
    const World world = world_of(GetParam(), random);
    const Candidate candidate = random_candidate(random, world.standard, kToday);
    SCOPED_TRACE(fmt::format("{} seed {}\n{}", GetParam(), seed, describe(candidate)));
    const Knowledge knowledge{world.standard, world.model, world.rules};
    const Plan plan = make_plan(candidate, knowledge, kToday, options);
    const Candidate seen = as_seen(candidate, knowledge, kToday, {});
    for (const Violation& violation : check_plan(plan, seen, world.standard, world.model, world.rules))
      ADD_FAILURE() << violation.rule << ": " << violation.what;
    if (plan.refused.empty()) expect_sense(plan, world, candidate);
  }
}

TEST_P(EveryStandard, HasWorkAndADayOfTheTestForEachOfItsEvents) {
  RandomSource random(1);
  const TestDayModel day = io::read_test_day(io::embedded_data()).value();
  const Standard& whole = shipped_standard(GetParam());
  const Model model = suited_model(shipped_model(), whole);
  for (const Event& event : whole.events) {
    EXPECT_NE(model.find_event(event.model_event), nullptr) << event.id;
    EXPECT_EQ(day.events.count(event.model_event), 1U) << event.id;
    EXPECT_TRUE(std::any_of(model.work.begin(), model.work.end(), [&](const WorkKind& kind) {
      return kind.trains == event.model_event && is_work_for(kind, whole);
    })) << event.id;
  }
  int placed = 0;
  for (const WorkKind& kind : model.work) placed += is_work_for(kind, whole) ? 1 : 0;
  EXPECT_LE(placed, 12) << "more kinds than a pack has room for";
}

// Somebody with time and weeks gains by the plan, in whatever the standard counts.
TEST_P(EveryStandard, PaysForWorkDone) {
  RandomSource random(5);
  const World world = world_of(GetParam(), random);
  CandidateKnobs knobs;
  knobs.plain = true;
  knobs.minutes_a_week = 200;
  knobs.weeks_to_test = 14;
  knobs.background = Background::regular;
  Candidate candidate = random_candidate(random, world.standard, kToday, knobs);
  candidate.aim = Aim::highest;
  PlanOptions options;
  options.ways_out = false;
  const Knowledge knowledge{world.standard, world.model, world.rules};
  const Plan plan = make_plan(candidate, knowledge, kToday, options);
  SCOPED_TRACE(describe(candidate));
  EXPECT_TRUE(check_plan(plan, candidate, world.standard, world.model, world.rules).empty());
  double with = 0.0;
  double without = 0.0;
  for (const EventOutlook& event : plan.outlook.events) with += event.expected_points;
  for (const EventOutlook& event : plan.without_training.events) without += event.expected_points;
  // Where all is at the top already there is nothing to gain.
  double most = 0.0;
  for (const Event& event : world.standard.events) {
    const Category& category = *world.standard.find_category(candidate.category);
    const int age = age_on(candidate.birth_date, candidate.test_date);
    most += world.standard.scale_for(event, candidate.column, age, category)->rows().back().points.value();
  }
  EXPECT_GE(with, without - 1e-3);
  if (without < 0.98 * most) {
    EXPECT_GT(with, without + 1e-3);
  }
  int minutes = 0;
  for (const PlannedWeek& week : plan.weeks) minutes += week.minutes;
  EXPECT_GT(minutes, 0);
}

INSTANTIATE_TEST_SUITE_P(Shipped, EveryStandard, ::testing::ValuesIn(shipped_ids()), [](const auto& one) {
  std::string name = one.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace backplan::testing

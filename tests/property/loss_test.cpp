// What a plan foretells to be lost stays within the published losses of people who stopped.
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <string>
#include <vector>

#include "backplan/planner.hpp"
#include "property/case_count.hpp"
#include "property/shipped_data.hpp"
#include "support/random_candidates.hpp"

namespace backplan::testing {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 11 / 2};
constexpr int kUsualCases = 60;
constexpr double kRounding = 0.01;  // of results to their resolution, in v

// Two miles were 13 % slower after 13 months with little running (Lester 2010, Mil Med 175:417), and
// oxygen uptake falls no further after 90 days (Zheng 2022): the cap of the model, however long the
// plan and however little of the event fits into it.
TEST(Loss, OfATimedEventNeverExceedsItsCap) {
  const Standard& standard = shipped_standard("us-army-aft");
  for (int seed = 1; seed <= property_cases(kUsualCases); ++seed) {
    RandomSource random(static_cast<std::uint64_t>(seed));
    CandidateKnobs knobs;
    knobs.minutes_a_week = 90 + 30 * (seed % 2);
    const Candidate candidate = random_candidate(random, standard, kToday, knobs);
    PlanOptions options;
    options.prove = options.ways_out = options.write_out = false;
    const Plan plan = make_plan(candidate, {standard, shipped_model(), shipped_rules()}, kToday, options);
    for (const EventOutlook& event : plan.outlook.events) {
      const Event& known = *standard.find_event(event.event);
      if (known.unit != Unit::second || known.direction != Direction::less_is_better) continue;
      const double lost = std::log(event.test_day_result / *event.now_result);
      EXPECT_LE(lost, shipped_model().find_event(known.model_event)->loss_cap + kRounding)
          << "seed " << seed << ": " << event.event << " from " << *event.now_result << " to "
          << event.test_day_result << " s\n"
          << describe(candidate);
    }
  }
}

}  // namespace
}  // namespace backplan::testing

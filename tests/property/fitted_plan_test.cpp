// Plans that start from a journal obey the rules as others do.
#include <gtest/gtest.h>

#include <cstdint>

#include "backplan/check.hpp"
#include "backplan/planner.hpp"
#include "backplan/progress.hpp"
#include "property/case_count.hpp"
#include "property/shipped_data.hpp"
#include "support/simulated_history.hpp"

namespace backplan::testing {
namespace {

constexpr int kUsualPeople = 25;

TEST(FittedPlan, ObeysTheRulesFromWhatWasReallyDone) {
  const Standard& standard = shipped_standard("us-army-aft");
  const Knowledge knowledge{standard, shipped_model(), shipped_rules()};
  PlanOptions options;
  options.prove = options.ways_out = false;
  for (int seed = 1; seed <= property_cases(kUsualPeople); ++seed) {
    SimulatedPerson person =
        simulate(static_cast<std::uint64_t>(seed), Response::as_assumed, standard, shipped_model());
    person.candidate.week = {60, 60, 0, 60, 60, 45, 0};
    person.candidate.target.total = Points::whole(330 + 10 * (seed % 12));
    const Plan plan = make_plan(person.candidate, knowledge, person.as_of, person.history, options);
    // The checker is told of the last weeks as the planner is: they are where the ramp starts.
    const Candidate trained = as_trained(person.candidate, shipped_model(), person.history, person.as_of);
    for (const Violation& broken : check_plan(plan, trained, standard, knowledge.model, knowledge.rules)) {
      ADD_FAILURE() << "seed " << seed << ": " << broken.rule << ": " << broken.what;
    }
    const auto states =
        fit_progress(person.candidate, standard, shipped_model(), person.as_of, person.history);
    for (std::size_t e = 0; e < states.size(); ++e) {
      EXPECT_EQ(plan.outlook.events[e].measured, states[e].measured);
    }
    EXPECT_GT(plan.outlook.total.mean, 0.0);
  }
}

}  // namespace
}  // namespace backplan::testing

// Who knows the hidden response: the ceiling that a planner's gain is held against. docs/laboratory.md says
// what it can and cannot see.
#pragma once

#include <optional>
#include <vector>

#include "backplan/progress.hpp"
#include "core/season.hpp"
#include "lab/policies.hpp"

namespace backplan::lab {

class Omniscient final : public Policy {
 public:
  [[nodiscard]] Decision decide(const Situation& now) override;
};

// The planner's model, fitted to what this person's true response would do until the test: one state an
// event, without any doubt but the noise of the test day.
[[nodiscard]] std::vector<EventState> true_states(const Person& person, const Candidate& seen,
                                                  const Knowledge& knowledge, Date as_of);

// Points that the true response would bring on the test day, less the cost of missed minimums, if every day
// from `as_of` on went by the plan.
[[nodiscard]] double true_value(Person person, const Plan& plan, const Knowledge& knowledge, Date as_of);

}  // namespace backplan::lab

// From a filled season to a plan, for ways of training that are not the planner's own.
#pragma once

#include "core/season.hpp"
#include "lab/policies.hpp"

namespace backplan::lab {

// What the planner starts from on that day, whoever chooses the work.
[[nodiscard]] Beginning beginning_of(const Situation& now);
// The season written out, with the past weeks of the history's plan before it.
[[nodiscard]] Decision decision_of(const Situation& now, const Candidate& seen, const SeasonPlanner& planner,
                                   const Season& season);
// The old plan goes on.
[[nodiscard]] Decision unchanged(const Situation& now);
// Whether nothing but the last week before the test is left: it stays as it was planned.
[[nodiscard]] bool last_week(const Situation& now);

}  // namespace backplan::lab

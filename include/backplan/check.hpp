// The independent checker: judges a finished plan against the training rules, by reading the plan
// and the candidate only. It shares no code with the planner that could hide a common mistake.
#pragma once

#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/rules.hpp"
#include "backplan/standard.hpp"

namespace backplan {

struct Violation {
  std::string rule;  // stable id: "hard-days", "deload", "taper-minutes", ...
  Date where;        // first day concerned
  std::string what;  // in words, with the numbers
};

// All violations, by date then rule; empty for a sound plan. `as_of` is the plan's first possible day.
[[nodiscard]] std::vector<Violation> check_plan(const Plan& plan, const Candidate& candidate,
                                                const Standard& standard, const Model& model,
                                                const Rules& rules);

}  // namespace backplan

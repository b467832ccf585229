// How every plan begins, a single one or a squad member's.
#pragma once

#include <string>

#include "backplan/plan.hpp"
#include "backplan/planner.hpp"

namespace backplan {

inline constexpr int kMinutesStep = 15;  // between two budgets that are compared

void set_heading(Plan& plan, const Candidate& candidate, const Knowledge& knowledge, Date as_of);

}  // namespace backplan

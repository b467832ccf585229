// The screen of `backplan replan`: the verdict, what the log taught, what changes and why.
#pragma once

#include <string>

#include "backplan/replan.hpp"
#include "report/names.hpp"

namespace backplan::report {

// `old`: the outlook of the plan before.
[[nodiscard]] std::string replan_text(const Replan& found, const Plan& old, const Names& names);

}  // namespace backplan::report

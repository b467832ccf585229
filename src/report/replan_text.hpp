// The screen of `backplan replan`: the verdict, what the log taught, what changes and why.
#pragma once

#include <string>

#include "backplan/replan.hpp"
#include "report/names.hpp"
#include "report/show_text.hpp"

namespace backplan::report {

// `old`: the plan before. `notes`: of the days around today.
[[nodiscard]] std::string replan_text(const Replan& found, const Plan& old, const Names& names,
                                      const DayNotes& notes = {});

}  // namespace backplan::report

// docs/defaults.md: every default of the planner with its value, source and status.
#pragma once

#include <string>

#include "backplan/model.hpp"
#include "backplan/rules.hpp"
#include "backplan/test_day.hpp"

namespace backplan::report {

// The whole page in Markdown. A test compares it with the file, so that neither can be stale.
[[nodiscard]] std::string defaults_markdown(const Model& model, const Rules& rules, const TestDayModel& day);

}  // namespace backplan::report

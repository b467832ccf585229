// The help texts by groups of commands, in the order of `backplan --help`.
#pragma once

#include <vector>

#include "cli/help.hpp"

namespace backplan::cli {

[[nodiscard]] std::vector<HelpText> plan_help();  // from the facts to the plan
[[nodiscard]] std::vector<HelpText> export_help();
[[nodiscard]] std::vector<HelpText> log_help();  // what was done, and the day of the test
[[nodiscard]] std::vector<HelpText> standard_help();
[[nodiscard]] std::vector<HelpText> squad_help();

}  // namespace backplan::cli

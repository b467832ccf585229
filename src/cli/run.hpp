// The command line: arguments in, exit code out.
#pragma once

#include <string>
#include <vector>

#include "cli/environment.hpp"

namespace backplan::cli {

// `arguments` without the program's name. Never throws: failing disks and bugs are told on
// `streams.err` and have exit codes of their own.
[[nodiscard]] int run(const std::vector<std::string>& arguments, Streams streams,
                      const Environment& environment);

}  // namespace backplan::cli

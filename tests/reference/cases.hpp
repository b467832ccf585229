// What the programs that print cases share: whole numbers as arguments, and one case a line.
#pragma once

#include <optional>
#include <vector>

#include "io/json_write.hpp"

namespace backplan::testing {

// The arguments as numbers from 1 on; those that are not given as in `defaults`. None, after `usage` on
// standard error, where one is no such number or there are too many.
[[nodiscard]] std::optional<std::vector<int>> numbers_from(int argc, char** argv, std::vector<int> defaults,
                                                           const char* usage);

void print_case(const io::Json& json);

}  // namespace backplan::testing

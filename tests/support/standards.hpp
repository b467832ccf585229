// Standards for tests: the shipped ones, and folders written as texts.
#pragma once

#include <string>
#include <vector>

#include "backplan/standard.hpp"
#include "io/readers.hpp"

namespace backplan::test {

// The files of a shipped standard, as compiled in.
[[nodiscard]] std::vector<io::DataFile> shipped_folder(const std::string& id);
// Fails the test, with all faults, when the folder cannot be read.
[[nodiscard]] Standard read_or_fail(const std::vector<io::DataFile>& folder);
[[nodiscard]] Standard shipped_standard(const std::string& id);

// All messages of the faults, a line each.
[[nodiscard]] std::string all_messages(const Diagnostics& faults);

[[nodiscard]] Date day(int year, unsigned month, unsigned day_of_month);

}  // namespace backplan::test

// The program's own data files with a fault put into one of them.
#pragma once

#include <string>
#include <vector>

#include "backplan/model.hpp"
#include "backplan/result.hpp"
#include "io/readers.hpp"

namespace backplan::test {

// The files with the first `old_text` of one replaced. A text that is not there fails the test: it
// would prove nothing.
[[nodiscard]] std::vector<io::DataFile> replace_in_file(std::vector<io::DataFile> files,
                                                        const std::string& path, const std::string& old_text,
                                                        const std::string& new_text);
// The same, of the embedded files.
[[nodiscard]] std::vector<io::DataFile> replace_in_file(const std::string& path, const std::string& old_text,
                                                        const std::string& new_text);

// The fault of a list that must hold exactly one, with a place in a file.
[[nodiscard]] Diagnostic only_fault(const Diagnostics& faults);

[[nodiscard]] const Assumption* find_assumption(const std::vector<Assumption>& list, const std::string& name);

}  // namespace backplan::test

// What a fuzzer, and the ordinary test that replays its cases, asks of each reader: that no bytes break it,
// that a refusal says something, and that what was accepted comes back the same after writing and reading it
// again.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace backplan::fuzz {

struct Target {
  std::string reader;                    // "candidate", "journal", "plan", "table", "history", "xml", "fit"
  bool (*feed)(std::string_view bytes);  // whether the reader took them
};

[[nodiscard]] const std::vector<Target>& targets();

// Whether the reader took the bytes. Throws std::logic_error where it does not hold what it promises, or
// there is none of this name.
bool feed(std::string_view reader, std::string_view bytes);

}  // namespace backplan::fuzz

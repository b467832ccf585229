// Text as tests look at it: the bytes of a file, and whether a part is in it.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace backplan::support {

// "" when there is no such file.
[[nodiscard]] std::string bytes_of(const std::filesystem::path& path);

// What is stored in the file to be compared with `made`; with UPDATE_GOLDEN in the environment, `made` is
// stored first.
[[nodiscard]] std::string stored_answer(const std::filesystem::path& path, const std::string& made);

[[nodiscard]] bool holds(const std::string& text, const std::string& part);

// The text with its first `from` made `to`; throws when it has none.
[[nodiscard]] std::string replaced(std::string text, const std::string& from, const std::string& to);

// What the pattern's first group matches, in the order of the text; the whole match of a pattern without one.
[[nodiscard]] std::vector<std::string> matches_of(const std::string& text, const std::string& pattern);

}  // namespace backplan::support

// Text as tests look at it: the bytes of a file, and whether a part is in it.
#pragma once

#include <filesystem>
#include <string>

namespace backplan::support {

// "" when there is no such file.
[[nodiscard]] std::string bytes_of(const std::filesystem::path& path);

// What is stored in the file to be compared with `made`; with UPDATE_GOLDEN in the environment, `made` is
// stored first.
[[nodiscard]] std::string stored_answer(const std::filesystem::path& path, const std::string& made);

[[nodiscard]] bool holds(const std::string& text, const std::string& part);

}  // namespace backplan::support

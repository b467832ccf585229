#include "support/text.hpp"

#include <cstdlib>
#include <fstream>
#include <iterator>

namespace backplan::support {

std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

std::string stored_answer(const std::filesystem::path& path, const std::string& made) {
  // NOLINTNEXTLINE(concurrency-mt-unsafe): one thread here
  if (std::getenv("UPDATE_GOLDEN") != nullptr) std::ofstream(path, std::ios::binary) << made;
  return bytes_of(path);
}

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace backplan::support

#include "support/text.hpp"

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <regex>
#include <stdexcept>

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

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) throw std::logic_error("not in the text: " + from);
  return text.replace(at, from.size(), to);
}

std::vector<std::string> matches_of(const std::string& text, const std::string& pattern) {
  const std::regex regex(pattern);
  const std::size_t group = regex.mark_count() > 0 ? 1 : 0;
  std::vector<std::string> found;
  for (std::sregex_iterator at(text.begin(), text.end(), regex), end; at != end; ++at)
    found.push_back((*at)[group].str());
  return found;
}

}  // namespace backplan::support

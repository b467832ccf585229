// GCC 12 takes parts of its own <regex> for uninitialised once a sanitizer is on (GCC bug 105562).
#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#endif

#include "support/prescription_text.hpp"

#include <map>
#include <regex>

namespace backplan::test {

std::optional<Match> match_in(const std::string& text, const std::string& pattern) {
  static std::map<std::string, std::regex> compiled;  // compiling is the slow part
  const std::regex& regex = compiled.try_emplace(pattern, pattern).first->second;
  std::smatch found;
  if (!std::regex_search(text, found, regex)) return std::nullopt;
  Match groups;
  for (const auto& group : found) groups.push_back(group.str());
  return groups;
}

double number_at(const Match& match, std::size_t group) {
  double value = 0.0;
  double scale = 0.0;  // of the next decimal; 0 before the point
  for (const char c : match.at(group)) {
    if (c == '.') {
      scale = 1.0;
      continue;
    }
    value = value * 10.0 + (c - '0');
    scale *= 10.0;
  }
  return scale > 0.0 ? value / scale : value;
}

}  // namespace backplan::test

// Reads figures back out of a printed prescription, so that tests judge what people will read.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace backplan::test {

// The whole match and its groups; a group that took no part is empty.
using Match = std::vector<std::string>;

// First place where the pattern (ECMAScript) matches.
[[nodiscard]] std::optional<Match> match_in(const std::string& text, const std::string& pattern);

// A group of digits, with or without a point, as a number.
[[nodiscard]] double number_at(const Match& match, std::size_t group);

// "1:58" in seconds.
inline double clock_seconds(const std::string& text) {
  const auto match = match_in(text, "^(\\d+):(\\d\\d)$");
  return match ? 60.0 * number_at(*match, 1) + number_at(*match, 2) : -1.0;
}

// "1 min", "2.5 min", "90 s", "2:45 min" in seconds.
inline double span_seconds(const std::string& text) {
  if (const auto match = match_in(text, "^(\\d+:\\d\\d) min$")) return clock_seconds((*match)[1]);
  const auto match = match_in(text, "^([\\d.]+) (min|s)$");
  if (!match) return -1.0;
  return number_at(*match, 1) * ((*match)[2] == "min" ? 60.0 : 1.0);
}

inline const std::string kSpan = "((?:\\d+:\\d\\d|[\\d.]+) (?:min|s))";

// The span after `word`, e.g. after "rest "; -1 when there is none.
inline double span_after(const std::string& text, const std::string& word) {
  const auto match = match_in(text, word + kSpan);
  return match ? span_seconds((*match)[1]) : -1.0;
}

// Every clock time before " a mile" or " per 400 m": "9:03-8:38 a mile" gives both.
inline std::vector<double> paces_of(const std::string& text, const std::string& unit) {
  const auto match = match_in(text, "(\\d+:\\d\\d)(?:-(\\d+:\\d\\d))? " + unit);
  if (!match) return {};
  std::vector<double> paces{clock_seconds((*match)[1])};
  if (!(*match)[2].empty()) paces.push_back(clock_seconds((*match)[2]));
  return paces;
}

}  // namespace backplan::test

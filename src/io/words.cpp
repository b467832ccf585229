// Small services for the readers: the nearest known word to a misspelt one.
#include <algorithm>

#include "io/json_text.hpp"

namespace backplan::io {

namespace {

constexpr std::size_t kMostSuggestedDistance = 2;
constexpr std::size_t kLongestWord = 64;  // longer ones are no slip of the keyboard

// Case is the commonest slip of all and costs nothing. ASCII only: no locale.
char fold(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

// Damerau-Levenshtein distance in its restricted form (optimal string alignment): insertions,
// deletions, substitutions and swaps of neighbours, each place edited once.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = fold(a[i - 1]) == fold(b[j - 1]);
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + (same ? 0U : 1U)});
      const bool swapped =
          i > 1 && j > 1 && fold(a[i - 1]) == fold(b[j - 2]) && fold(a[i - 2]) == fold(b[j - 1]);
      if (swapped) now[j] = std::min(now[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, now);
  }
  return last[b.size()];
}

}  // namespace

std::optional<std::string> nearest_word(std::string_view word, const std::vector<std::string>& words) {
  if (word.size() > kLongestWord) return std::nullopt;
  std::optional<std::string> nearest;
  std::size_t least = kMostSuggestedDistance + 1;
  for (const std::string& candidate : words) {
    if (candidate.size() > kLongestWord) continue;
    const std::size_t distance = edit_distance(word, candidate);
    const std::size_t third = std::max(word.size(), candidate.size()) / 3;
    if (distance <= third && distance < least) {
      least = distance;
      nearest = candidate;
    }
  }
  return nearest;
}

}  // namespace backplan::io

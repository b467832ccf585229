// What the readers of texts share about single characters.
#pragma once

#include <string_view>

namespace backplan::io {

inline constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

[[nodiscard]] constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Without the spaces around it.
[[nodiscard]] constexpr std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

}  // namespace backplan::io

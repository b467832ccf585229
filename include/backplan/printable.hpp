// Text from outside on its way to a screen.
#pragma once

#include <string>
#include <string_view>

namespace backplan {

// With "?" for every character that a terminal obeys instead of showing: the control characters of both sets
// (below U+0020, U+007F to U+009F), line and paragraph separators, marks that turn the direction of writing,
// and bytes that are no UTF-8.
[[nodiscard]] std::string printable(std::string_view text);

// Whether there is none of them.
[[nodiscard]] bool is_printable(std::string_view text);

}  // namespace backplan

#include "backplan/printable.hpp"

#include <cstddef>
#include <cstdint>

namespace backplan {
namespace {

struct Character {
  std::uint32_t code = 0;
  std::size_t bytes = 1;
  bool sound = true;
};

// The character that begins the text, as RFC 3629 encodes it. Over-long forms and surrogates are left to the
// readers of files: a screen shows them as it likes, and obeys none.
Character first_of(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(0);
  if (lead < 0x80U) return {lead, 1, true};
  const std::size_t bytes = lead >= 0xF0U ? 4 : lead >= 0xE0U ? 3 : 2;
  if (lead < 0xC2U || lead > 0xF4U || bytes > text.size()) return {lead, 1, false};
  std::uint32_t code = lead & (0x7FU >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return {lead, 1, false};
    code = code << 6U | (byte(i) & 0x3FU);
  }
  return {code, bytes, true};
}

bool is_obeyed(std::uint32_t code) {
  const auto within = [code](std::uint32_t least, std::uint32_t most) {
    return least <= code && code <= most;
  };
  const bool turns_direction = code == 0x061CU || within(0x200EU, 0x200FU) || within(0x202AU, 0x202EU) ||
                               within(0x2066U, 0x2069U);  // Unicode Bidirectional Algorithm (UAX 9), 2
  return code < 0x20U || within(0x7FU, 0x9FU) || within(0x2028U, 0x2029U) || turns_direction;
}

}  // namespace

std::string printable(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  while (!text.empty()) {
    const Character one = first_of(text);
    if (one.sound && !is_obeyed(one.code)) {
      result += text.substr(0, one.bytes);
    } else {
      result += '?';
    }
    text.remove_prefix(one.bytes);
  }
  return result;
}

bool is_printable(std::string_view text) { return printable(text) == text; }

}  // namespace backplan

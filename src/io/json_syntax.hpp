// Why a text is no JSON, in plain words and at the right place. The parser only knows that it
// stopped; this finds what a person did: a comma too many, a missing quote, a comment, NaN.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace backplan::io {

// What the parser had read before it stopped.
enum class LastToken { none, key, value, object_start, array_start };
enum class Container { root, object, array };

struct ParserState {
  std::size_t offset = 0;  // just behind the last token that was right
  LastToken last = LastToken::none;
  Container in = Container::root;
  std::string last_key;    // when `last` is key
  int opened_in_line = 0;  // of the innermost open container
  bool number_too_large = false;
};

struct SyntaxFault {
  std::size_t offset = 0;
  std::string message;
  std::string hint;
};

[[nodiscard]] SyntaxFault explain_syntax(std::string_view text, const ParserState& state);

// Offset of the first byte that is not UTF-8 (RFC 3629: shortest forms, no surrogates), or npos.
[[nodiscard]] std::size_t find_invalid_utf8(std::string_view text);

// Offset of the first character at or after `offset` that is no JSON white space.
[[nodiscard]] std::size_t skip_space(std::string_view text, std::size_t offset);

}  // namespace backplan::io

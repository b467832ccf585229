#include "io/json_syntax.hpp"

#include <fmt/format.h>

#include "io/characters.hpp"

namespace backplan::io {

namespace {

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool is_continuation(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

char at(std::string_view text, std::size_t offset) { return offset < text.size() ? text[offset] : '\0'; }

// The word, number or single character that starts here, for quoting in a message.
std::string_view token_at(std::string_view text, std::size_t offset) {
  constexpr std::size_t kMostQuoted = 24;
  std::size_t end = offset;
  const auto is_plain = [](char c) {
    return is_letter(c) || is_digit(c) || c == '-' || c == '+' || c == '.' || c == '_';
  };
  while (end < text.size() && end - offset < kMostQuoted && is_plain(text[end])) ++end;
  if (end == offset) {
    ++end;
    while (end < text.size() && is_continuation(text[end])) ++end;  // a whole character
  }
  return text.substr(offset, end - offset);
}

std::string quoted(std::string_view text, std::size_t offset) {
  const auto first = static_cast<unsigned char>(at(text, offset));
  if (first < 0x20U || first == 0x7FU) return fmt::format("a control character (byte {:#04x})", first);
  if (first == '"') return "text in quotes";
  return fmt::format("\"{}\"", token_at(text, offset));
}

SyntaxFault ends_early(std::string_view text, const ParserState& state) {
  if (state.in == Container::root) {
    return {text.size(), "the text ends before any value", "put one JSON object into the file"};
  }
  const char closer = state.in == Container::object ? '}' : ']';
  return {text.size(),
          fmt::format("the text ends too early: what was opened in line {} is never closed by \"{}\"",
                      state.opened_in_line, closer),
          "the file may have been cut off; write it again or restore a copy"};
}

// A quoted text that the parser refused: find the character that is wrong in it.
SyntaxFault bad_text(std::string_view text, std::size_t start) {
  for (std::size_t i = start + 1; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '"') break;
    if (c == '\n' || c == '\r') {
      return {start, "the quoted text has no closing quote in its line",
              "close it with \" before the line ends"};
    }
    if (static_cast<unsigned char>(c) < 0x20U) {
      return {i, fmt::format("{} inside a quoted text", quoted(text, i)),
              "write it as an escape, such as \\t"};
    }
    if (c != '\\') continue;
    const std::string_view known = "\"\\/bfnrtu";
    if (known.find(at(text, i + 1)) == std::string_view::npos) {
      return {i, "unknown escape after a backslash in a quoted text", "write \\\\ for a backslash"};
    }
    if (text[++i] == 'u') {
      for (std::size_t k = 1; k <= 4; ++k) {
        const char h = at(text, i + k);
        if (!is_digit(h) && !(h >= 'a' && h <= 'f') && !(h >= 'A' && h <= 'F')) {
          return {i - 1, "\\u needs four hexadecimal digits", "write the character itself instead"};
        }
      }
      if (at(text, i + 1) == 'd' || at(text, i + 1) == 'D') {
        return {i - 1, "half of a character pair after \\u", "write the character itself instead"};
      }
    }
  }
  return {start, "the quoted text has no closing quote", "close it with \""};
}

SyntaxFault not_a_value(std::string_view text, std::size_t p, const ParserState& state) {
  const char c = text[p];
  const std::string_view token = token_at(text, p);
  if (c == '"') return bad_text(text, p);
  if (state.number_too_large) {
    return {p, fmt::format("the number {} is too large", token), "write a number that is possible here"};
  }
  if (token == "NaN" || token == "Infinity" || token == "-Infinity" || token == "-NaN") {
    return {p, fmt::format("{} is no number that can be used", token),
            "leave the key out if the value is not known"};
  }
  if (is_digit(c) || c == '-' || c == '+' || c == '.') {
    return {p, fmt::format("{} is not written as JSON writes numbers", quoted(text, p)),
            "write 7, -2 or 0.5: no leading zero or plus, digits on both sides of the point; times and units "
            "in quotes"};
  }
  if (c == '/' || c == '#') return {p, "a comment is not allowed here", "take it out"};
  if (c == '\'') return {p, "single quotes are not allowed here", "use double quotes"};
  if (is_letter(c)) {
    return {p, fmt::format("expected a value, found {}", quoted(text, p)), "put text between double quotes"};
  }
  return {p, fmt::format("expected a value, found {}", quoted(text, p)),
          "see the example in the documentation"};
}

SyntaxFault not_a_key(std::string_view text, std::size_t p) {
  if (text[p] == '"') return bad_text(text, p);
  if (text[p] == '/' || text[p] == '#') return {p, "a comment is not allowed here", "take it out"};
  return {p, fmt::format("expected a key in double quotes, found {}", quoted(text, p)),
          "put the key between double quotes"};
}

// Behind a value of an object or array: a comma with something after it, or the closing bracket.
SyntaxFault after_value(std::string_view text, std::size_t p, const ParserState& state) {
  const bool object = state.in == Container::object;
  const char closer = object ? '}' : ']';
  if (text[p] != ',') {
    return {p, fmt::format("expected \",\" or \"{}\", found {}", closer, quoted(text, p)),
            "put a comma between two entries"};
  }
  const std::size_t next = skip_space(text, p + 1);
  if (next >= text.size()) return ends_early(text, state);
  if (text[next] == closer) return {p, fmt::format("a comma before \"{}\"", closer), "take the comma out"};
  if (text[next] == ',') return {next, "two commas in a row", "take one of them out"};
  return object ? not_a_key(text, next) : not_a_value(text, next, state);
}

}  // namespace

std::size_t skip_space(std::string_view text, std::size_t offset) {
  while (offset < text.size()) {
    const char c = text[offset];
    if (c != ' ' && c != '\t' && c != '\n' && c != '\r') break;
    ++offset;
  }
  return offset;
}

SyntaxFault explain_syntax(std::string_view text, const ParserState& state) {
  std::size_t p = skip_space(text, state.offset);
  if (p >= text.size()) return ends_early(text, state);
  switch (state.last) {
    case LastToken::key:
      if (text[p] != ':') {
        return {p,
                fmt::format("expected \":\" after the key \"{}\", found {}", state.last_key, quoted(text, p)),
                "write \"key\": value"};
      }
      p = skip_space(text, p + 1);
      if (p >= text.size()) return ends_early(text, state);
      return not_a_value(text, p, state);
    case LastToken::object_start:
      return not_a_key(text, p);
    case LastToken::array_start:
      return not_a_value(text, p, state);
    case LastToken::value:
      if (state.in != Container::root) return after_value(text, p, state);
      return {p, fmt::format("expected the end of the text, found {}", quoted(text, p)),
              "keep one JSON value in the file"};
    case LastToken::none:
      break;
  }
  return not_a_value(text, p, state);
}

std::size_t find_invalid_utf8(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  std::size_t i = 0;
  while (i < text.size()) {
    const unsigned lead = byte(i);
    std::size_t more = 0;
    unsigned least = 0x80;
    unsigned most = 0xBF;  // of the first continuation byte
    if (lead >= 0x80U) {
      if (lead >= 0xC2U && lead <= 0xDFU) {
        more = 1;
      } else if (lead >= 0xE0U && lead <= 0xEFU) {
        more = 2;
        if (lead == 0xE0U) least = 0xA0;
        if (lead == 0xEDU) most = 0x9F;  // surrogates
      } else if (lead >= 0xF0U && lead <= 0xF4U) {
        more = 3;
        if (lead == 0xF0U) least = 0x90;
        if (lead == 0xF4U) most = 0x8F;  // above U+10FFFF
      } else {
        return i;
      }
    }
    if (more > 0 && (i + more >= text.size() || byte(i + 1) < least || byte(i + 1) > most)) return i;
    for (std::size_t k = 2; k <= more; ++k) {
      if (!is_continuation(text[i + k])) return i;
    }
    i += more + 1;
  }
  return std::string_view::npos;
}

}  // namespace backplan::io

// HTML and SVG that cannot be broken by what is put into it: text becomes markup only by being escaped.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace backplan::report {

class Markup {
 public:
  Markup() = default;
  // Escapes: a plain text is never taken for markup. Control characters become "?".
  Markup(std::string_view text);    // NOLINT(google-explicit-constructor)
  Markup(const std::string& text);  // NOLINT(google-explicit-constructor)
  Markup(const char* text);         // NOLINT(google-explicit-constructor)
  // Only for what is written in this program.
  [[nodiscard]] static Markup trusted(std::string markup);

  Markup& operator+=(const Markup& more);
  friend Markup operator+(Markup a, const Markup& b) { return a += b; }
  [[nodiscard]] const std::string& str() const { return text_; }
  [[nodiscard]] bool empty() const { return text_.empty(); }

 private:
  std::string text_;
};

using Attributes = std::vector<std::pair<std::string_view, std::string>>;

// <name attributes>children</name>; attribute values are escaped. Elements that hold nothing by definition
// (meta, br, img) have no end tag.
[[nodiscard]] Markup element(std::string_view name, const Attributes& attributes,
                             std::initializer_list<Markup> children);
[[nodiscard]] Markup element(std::string_view name, const Attributes& attributes, const Markup& child = {});

// What a person wrote: its direction of writing must not turn the text around it.
[[nodiscard]] Markup foreign(std::string_view text);

// A coordinate: at most two decimals, no trailing zeros.
[[nodiscard]] std::string coordinate(double x);

}  // namespace backplan::report

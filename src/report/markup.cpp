#include "report/markup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "report/words.hpp"

namespace backplan::report {
namespace {

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : printable(text)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

bool is_void(std::string_view name) {
  constexpr std::array<std::string_view, 3> kVoid{"meta", "br", "img"};
  return std::find(kVoid.begin(), kVoid.end(), name) != kVoid.end();
}

}  // namespace

Markup::Markup(std::string_view text) : text_(escaped(text)) {}
Markup::Markup(const std::string& text) : text_(escaped(text)) {}
Markup::Markup(const char* text) : text_(escaped(text)) {}

Markup Markup::trusted(std::string markup) {
  Markup out;
  out.text_ = std::move(markup);
  return out;
}

Markup& Markup::operator+=(const Markup& more) {
  text_ += more.text_;
  return *this;
}

Markup element(std::string_view name, const Attributes& attributes, std::initializer_list<Markup> children) {
  Markup all;
  for (const Markup& child : children) all += child;
  return element(name, attributes, all);
}

Markup element(std::string_view name, const Attributes& attributes, const Markup& child) {
  std::string text = fmt::format("<{}", name);
  for (const auto& [key, value] : attributes) text += fmt::format(" {}=\"{}\"", key, escaped(value));
  text += '>';
  if (!is_void(name)) text += fmt::format("{}</{}>", child.str(), name);
  return Markup::trusted(std::move(text));
}

Markup foreign(std::string_view text) { return element("bdi", {}, {Markup(text)}); }

std::string coordinate(double x) {
  std::string text = fmt::format("{:.2f}", x);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

}  // namespace backplan::report

#include "io/sheet.hpp"

#include <fmt/format.h>

#include <string_view>

#include "io/value_text.hpp"

namespace backplan::io {
namespace {

// A cell that begins so may be run by a spreadsheet.
bool looks_like_a_formula(std::string_view text) {
  return !text.empty() && std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos;
}

std::string quoted(const std::string& text) {
  if (text.find_first_of("\",\r\n") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + '"';
}

std::string figure_text(double figure) {
  std::string text = fmt::format("{:.3f}", figure);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string cell_text(const SheetCell& cell) {
  if (const auto* figure = std::get_if<double>(&cell)) return figure_text(*figure);
  if (const auto* date = std::get_if<Date>(&cell)) return write_date(*date);
  const auto& text = std::get<std::string>(cell);
  return quoted(looks_like_a_formula(text) ? "'" + text : text);
}

}  // namespace

std::string write_csv(const Sheet& sheet, ByteOrderMark mark) {
  std::string out = mark == ByteOrderMark::first ? "\xEF\xBB\xBF" : "";
  const auto add_row = [&out](const auto& cells, auto text_of) {
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (i > 0) out += ',';
      out += text_of(cells[i]);
    }
    out += "\r\n";
  };
  add_row(sheet.columns, [](const SheetColumn& column) { return quoted(column.head); });
  for (const auto& row : sheet.rows) add_row(row, cell_text);
  return out;
}

}  // namespace backplan::io

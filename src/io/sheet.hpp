// A table to be written: as text, or as a sheet of a workbook.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "backplan/units.hpp"

namespace backplan::io {

using SheetCell = std::variant<std::string, double, Date>;

struct SheetColumn {
  std::string head;
  int width = 12;  // in letters
};

struct Sheet {
  std::string name;  // at most 31 letters
  std::vector<SheetColumn> columns;
  std::vector<std::vector<SheetCell>> rows;  // as many cells as there are columns
  bool landscape = true;
};

// RFC 4180: CRLF, quotes where they are needed, UTF-8, dates as YYYY-MM-DD, a decimal point always. A text
// that a spreadsheet would run as a formula gets an apostrophe in front; read_csv's caller takes it off
// again. `mark` puts a byte-order mark first, for spreadsheets that guess the charset.
enum class ByteOrderMark { none, first };
[[nodiscard]] std::string write_csv(const Sheet& sheet, ByteOrderMark mark = ByteOrderMark::none);

}  // namespace backplan::io

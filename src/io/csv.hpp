// Tables as text (RFC 4180), read strictly: a row of the wrong length or a stray quote is a fault,
// never a guess.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/result.hpp"

namespace backplan::io {

struct CsvCell {
  std::string text;  // without quotes and outer blanks of an unquoted cell
  int line = 0;
  int column = 0;  // in characters, from 1
};

using CsvRow = std::vector<CsvCell>;

struct CsvTable {
  char separator = ',';
  bool decimal_comma = false;  // cells such as "8,4" in a table parted by semicolons
  std::vector<CsvRow> rows;    // all of one length, the header first; never empty
};

struct CsvLimits {
  std::size_t most_bytes = 8U << 20U;  // a squad's roster or an official table has a thousandth of it
  std::size_t most_rows = 20000;
  std::size_t most_columns = 1000;
};

// Enough to mend a file by; a wrong separator gives thousands.
inline constexpr std::size_t kMostTableFaults = 50;

// The separator is the one of ',', ';' and tab that the first line holds most of, unless given. LF and
// CRLF end lines; a byte-order mark and empty lines at the end are skipped, and a first line "sep=;", as
// spreadsheets write it, names the separator. Faults carry line and column.
[[nodiscard]] Result<CsvTable> read_csv(std::string_view text, const std::string& file,
                                        std::optional<char> separator = std::nullopt, CsvLimits limits = {});

// Bytes before the header: a byte-order mark, a line "sep=;".
[[nodiscard]] std::size_t bytes_before_header(std::string_view text);

// The text of a cell with a decimal point, whatever the table uses.
[[nodiscard]] std::string decimal_text(const CsvTable& table, const CsvCell& cell);

// A value as a cell, quoted when it has to be.
[[nodiscard]] std::string csv_field(std::string_view value);

// A text of a table that no comma parts: a comma between two digits is a decimal one, "8,4 m".
[[nodiscard]] std::string with_points(std::string text);

}  // namespace backplan::io

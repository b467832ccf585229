// A table whose first row names its columns: what the readers of rosters, results and histories share.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "backplan/result.hpp"
#include "io/csv.hpp"

namespace backplan::io {

class NamedTable {
 public:
  NamedTable(const CsvTable& table, std::string file) : table_(table), file_(std::move(file)) {}

 protected:
  // Every column is one of `names` and stands once.
  void name_columns(const std::vector<std::string>& names);
  // A fault in the first cell unless the column is there.
  void need(const std::string& column, const std::string& hint);
  // Told once, however many values of a row rest on the cell.
  void fault(const CsvCell& cell, const std::string& field, std::string message, std::string hint);

  // All that were told, in the order of the table and not of its reading.
  [[nodiscard]] Diagnostics faults_by_place() const;

  [[nodiscard]] bool has(const std::string& column) const { return columns_.count(column) > 0; }
  // None where the column is missing or the cell is empty.
  [[nodiscard]] const CsvCell* cell(const CsvRow& row, const std::string& column) const;
  // With a decimal point, whatever the table uses.
  [[nodiscard]] std::string value_text(const CsvCell& cell) const;

  const CsvTable& table_;
  std::string file_;
  std::map<std::string, std::size_t> columns_;
  Diagnostics faults_;
};

}  // namespace backplan::io

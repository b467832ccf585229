#include "io/named_table.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <utility>

#include "io/json_text.hpp"

namespace backplan::io {

void NamedTable::name_columns(const std::vector<std::string>& names) {
  for (std::size_t i = 0; i < table_.rows.front().size(); ++i) {
    const CsvCell& cell = table_.rows.front()[i];
    if (std::find(names.begin(), names.end(), cell.text) == names.end()) {
      const auto near = nearest_word(cell.text, names);
      fault(cell, "", fmt::format("unknown column \"{}\"", cell.text),
            near ? fmt::format("did you mean \"{}\"?", *near)
                 : fmt::format("known columns: {}", fmt::join(names, ", ")));
    } else if (!columns_.emplace(cell.text, i).second) {
      fault(cell, "", fmt::format("the column \"{}\" stands here twice", cell.text), "keep one of the two");
    }
  }
}

void NamedTable::need(const std::string& column, const std::string& hint) {
  if (!has(column))
    fault(table_.rows.front().front(), "", fmt::format("the column \"{}\" is missing", column), hint);
}

void NamedTable::fault(const CsvCell& cell, const std::string& field, std::string message, std::string hint) {
  for (auto other = faults_.rbegin(); other != faults_.rend() && other->line == cell.line; ++other) {
    if (other->column == cell.column && other->message == message) return;
  }
  faults_.push_back(
      {Severity::error, file_, cell.line, cell.column, field, std::move(message), std::move(hint)});
}

Diagnostics NamedTable::faults_by_place() const {
  Diagnostics sorted = faults_;
  sort_by_place(sorted);
  return sorted;
}

const CsvCell* NamedTable::cell(const CsvRow& row, const std::string& column) const {
  const auto found = columns_.find(column);
  if (found == columns_.end() || row[found->second].text.empty()) return nullptr;
  return &row[found->second];
}

std::string NamedTable::value_text(const CsvCell& cell) const {
  return table_.separator == ',' ? cell.text : with_points(cell.text);
}

}  // namespace backplan::io

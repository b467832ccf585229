#include "report/table.hpp"

#include <algorithm>
#include <stdexcept>

#include "report/words.hpp"

namespace backplan::report {

void Table::add(std::vector<std::string> cells) {
  if (cells.size() != columns_.size()) throw std::logic_error("a row of another length than the table");
  rows_.push_back(std::move(cells));
}

std::string Table::text(const std::string& indent) const {
  std::vector<std::size_t> widths(columns_.size(), 0);
  for (const auto& row : rows_) {
    for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], width_of(row[c]));
  }
  std::string text;
  for (const auto& row : rows_) {
    std::string line = indent;
    for (std::size_t c = 0; c < row.size(); ++c) {
      const std::string padding(widths[c] - width_of(row[c]), ' ');
      if (c > 0) line += "  ";
      line += columns_[c] == Align::right ? padding + row[c] : row[c] + padding;
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + '\n';
  }
  return text;
}

}  // namespace backplan::report

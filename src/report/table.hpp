// Columns of text that stand straight.
#pragma once

#include <string>
#include <vector>

namespace backplan::report {

enum class Align { left, right };

class Table {
 public:
  explicit Table(std::vector<Align> columns) : columns_(std::move(columns)) {}
  void add(std::vector<std::string> cells);  // as many as there are columns
  // Each row after `indent`, columns two spaces apart, no spaces at line ends.
  [[nodiscard]] std::string text(const std::string& indent) const;

 private:
  std::vector<Align> columns_;
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace backplan::report

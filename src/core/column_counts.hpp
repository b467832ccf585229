// How many weeks of each group take each column: the value of such counts, and small steps to better ones.
#pragma once

#include <vector>

#include "core/closing.hpp"
#include "core/event_value.hpp"

namespace backplan {

class ColumnCounts {
 public:
  // Values and groups must outlive this.
  ColumnCounts(const std::vector<EventValue>& values, const std::vector<ClosingGroup>& groups);

  // The columns of all groups in a row; where each group's begin, and the end.
  [[nodiscard]] const std::vector<const Column*>& columns() const { return columns_; }
  [[nodiscard]] const std::vector<std::size_t>& first() const { return first_; }

  // The counts of each group for itself.
  [[nodiscard]] std::vector<std::vector<int>> by_group(const std::vector<int>& counts) const;
  [[nodiscard]] double value_of(const std::vector<int>& counts) const;
  // Whole numbers near these, and as many weeks in each group as it has.
  [[nodiscard]] std::vector<int> rounded(const std::vector<double>& means) const;
  // One week at a time takes another column, of those known to fit their days, while that pays.
  [[nodiscard]] std::vector<int> exchanged(std::vector<int> counts) const;

 private:
  struct Sums {
    std::vector<double> s, loss;  // by event
  };
  struct Move {
    std::size_t from = 0, to = 0;
    double value = 0.0;
  };
  [[nodiscard]] Sums sums_of(const std::vector<int>& counts) const;
  [[nodiscard]] double moved_value(const Sums& sums, std::size_t from, std::size_t to) const;
  [[nodiscard]] Move best_move(const std::vector<int>& counts, double value) const;

  const std::vector<EventValue>& values_;
  const std::vector<ClosingGroup>& groups_;
  std::vector<const Column*> columns_;
  std::vector<std::size_t> first_;
};

}  // namespace backplan

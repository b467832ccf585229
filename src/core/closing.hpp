// The last part of the proof: what no price can close, because weeks are whole, is closed by counting.
// docs/mathematics.md, "Allocation".
#pragma once

#include <vector>

#include "core/event_value.hpp"
#include "core/packs.hpp"

namespace backplan {

// Equal weeks and every column that a better season than the best one known could use there.
struct ClosingGroup {
  int weeks = 0;
  std::vector<Column> columns;
};

// Nodes of S, then of L, by event, within which the season lies; the prices to start from.
struct ClosingBox {
  std::vector<int> low, high;
  Prices prices;
};

struct ClosingResult {
  double value = 0.0;                    // of the best season known now
  double bound = 0.0;                    // no season of these columns in this box is worth more
  std::vector<std::vector<int>> counts;  // by group and column; empty: nothing better than `value` was found
  int nodes = 0;                         // that it took
};

// Branch and bound on how many weeks take each column, and on S and L where F is not concave. Stops at
// `gap` points between value and bound, or after so many nodes.
[[nodiscard]] ClosingResult close_gap(const std::vector<EventValue>& values,
                                      const std::vector<ClosingGroup>& groups, const ClosingBox& box,
                                      double value, double gap, int nodes);

}  // namespace backplan

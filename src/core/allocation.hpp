// Which pack in which week: maximises a value that is separable by event, and proves how near the
// best it is. docs/mathematics.md, "Allocation".
#pragma once

#include <limits>
#include <string>
#include <vector>

#include "core/event_value.hpp"
#include "core/packs.hpp"

namespace backplan {

// The weeks to fill. Those that are a deload take a pack under the deload's limits.
struct AllocationTask {
  std::vector<Segment> weeks;      // in order of time
  std::vector<Segment> as_deload;  // the same weeks with the deload's limits
  std::vector<bool> is_deload;
};

struct Allocation {
  std::vector<Column> columns;  // by week
  double value = 0.0;
  double bound = std::numeric_limits<double>::infinity();  // of any plan's value, where it was proven
  Prices prices;                                           // at which the bound was found
};

struct AllocationEffort {
  bool prove = true;
  int rounds = 12;            // of pricing
  int nodes = 60;             // of branching
  int counting_nodes = 3000;  // of the counting in the boxes that branching leaves open
  double gap = 0.02;          // points at which to stop
};

[[nodiscard]] Allocation allocate(const AllocationTask& task, const std::vector<EventValue>& values,
                                  PackSearch& search, const AllocationEffort& effort);

}  // namespace backplan

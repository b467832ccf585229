// Which pack in which week: maximises a value that is separable by event, and proves how near the
// best it is. docs/mathematics.md, "Allocation".
#pragma once

#include <string>
#include <vector>

#include "backplan/outlook.hpp"
#include "core/packs.hpp"

namespace backplan {

// F(S, L) of one event on a grid, bilinear between the nodes; rises with S, falls with L.
class EventValue {
 public:
  EventValue(const EventState& state, const AbilityScale& scale, double weight, double cost, double most_s,
             double most_loss);
  [[nodiscard]] double at(double s, double loss) const;
  [[nodiscard]] int s_nodes() const { return s_nodes_; }
  [[nodiscard]] int loss_nodes() const { return loss_nodes_; }
  [[nodiscard]] double s_of(int i) const { return i * s_step_; }
  [[nodiscard]] double loss_of(int j) const { return j * loss_step_; }
  [[nodiscard]] double node(int i, int j) const { return f_[static_cast<std::size_t>(i * loss_nodes_ + j)]; }

 private:
  int s_nodes_ = 2, loss_nodes_ = 2;
  double s_step_ = 1.0, loss_step_ = 0.01;
  std::vector<double> f_;
};

// The weeks to fill. Weeks at `deload_weeks` take a pack under the deload's minutes; for the bound
// any `deload_weeks.size()` of the weeks in `may_deload` may be the deloads.
struct AllocationTask {
  std::vector<Segment> weeks;      // in order of time
  std::vector<Segment> as_deload;  // the same weeks with the deload's limits
  std::vector<bool> is_deload, may_deload;
};

struct Allocation {
  std::vector<Column> columns;  // by week
  double value = 0.0;
  double bound = 0.0;
  Prices prices;  // at which the bound was found
};

struct AllocationEffort {
  bool prove = true;
  int rounds = 12;    // of pricing
  int nodes = 60;     // of branching
  double gap = 0.02;  // points at which to stop
};

[[nodiscard]] Allocation allocate(const AllocationTask& task, const std::vector<EventValue>& values,
                                  PackSearch& search, const AllocationEffort& effort);

}  // namespace backplan

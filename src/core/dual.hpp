// The prices that bring weeks and events together, and one step towards better ones. docs/mathematics.md,
// "Allocation".
#pragma once

#include <vector>

#include "core/packs.hpp"

namespace backplan {

// The Lagrangian at some prices: an upper bound, and what the two sides would choose there, by event.
struct DualPoint {
  double dual = 0.0;
  std::vector<double> star_s, star_loss;  // the events
  std::vector<double> week_s, week_loss;  // the weeks
};

// Square of the subgradient's length, with S and L brought to one scale; 0 where both sides agree.
[[nodiscard]] double squared_slope(const DualPoint& point);

// The prices moved by `length` against the subgradient; never below 0.
void step_down(Prices& prices, const DualPoint& point, double length);

}  // namespace backplan

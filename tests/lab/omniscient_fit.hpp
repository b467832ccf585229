// The planner's curves laid through a true response.
#pragma once

#include "lab/response.hpp"

namespace backplan::lab {

// v(S, L) = v + h (1 - exp(-k S)) - L with S and L by this dose curve, a week.
struct Linearised {
  Dose dose;
  double h = 0.0, k = 0.1, loss_per_week = 0.0;
};

// Through what the response would be after `days` of which the last `idle` bring nothing, under steady work
// of several amounts and under the same in every second week.
[[nodiscard]] Linearised linearise(const Response& response, int days, int idle);

}  // namespace backplan::lab

// Means over the same people under several ways of training, with intervals for the differences.
#pragma once

#include <cstddef>
#include <vector>

namespace backplan::lab {

struct Estimate {
  double value = 0.0;
  double half = 0.0;  // half of the 95 % interval
};

[[nodiscard]] Estimate mean_of(const std::vector<double>& values);
// Of the differences person by person: what chance has in common falls out.
[[nodiscard]] Estimate paired_difference(const std::vector<double>& a, const std::vector<double>& b);
// Sum of `a` over sum of `b`, of the same people (ratio estimator, Cochran 1977, memory).
[[nodiscard]] Estimate paired_ratio(const std::vector<double>& a, const std::vector<double>& b);

}  // namespace backplan::lab

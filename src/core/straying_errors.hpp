// Errors of readings of one level that strays: independent noise, and a walk that readings of the same past
// share. All that is asked of their covariance takes a pass or two over the rows instead of a factorisation.
#pragma once

#include <cstddef>
#include <vector>

#include "core/linear_algebra.hpp"

namespace backplan {

struct ErrorOf {
  double variance = 0.0;  // of its own; positive
  double stray = 0.0;     // variance of the walk between today and the reading
  bool walks = true;      // false: a row that the walk does not touch
};

// What all other rows say of each row, in a model y = A x + e with these errors and prior rows on x.
struct LeftOut {
  std::vector<double> mean;      // of the row's target
  std::vector<double> variance;  // of its target, its own noise included; kNoInformation where nothing does
};
inline constexpr double kNoInformation = 1e30;

// The covariance is C(i, j) = min(stray i, stray j) + [i = j] variance i.
class StrayingErrors {
 public:
  explicit StrayingErrors(const std::vector<ErrorOf>& errors);

  // A square root of C^-1 times each column of `right` (rows x columns, row after row).
  [[nodiscard]] std::vector<double> whiten(const std::vector<double>& right, int columns) const;
  // C^-1 times each column.
  [[nodiscard]] std::vector<double> solve(const std::vector<double>& right, int columns) const;
  // `design` and `target` as they are, not whitened; `fit` of the whitened rows and any prior rows.
  [[nodiscard]] LeftOut leave_one_out(const std::vector<double>& design, const std::vector<double>& target,
                                      const LinearFit& fit) const;

 private:
  struct Step {
    std::size_t row = 0;
    double variance = 0.0;  // of the row, given those before it
    double gain = 0.0;      // how far the walk's estimate follows it
    bool walks = true;
  };
  [[nodiscard]] std::vector<double> innovations(const std::vector<double>& right, int columns) const;

  std::vector<Step> steps_;        // from today backwards
  std::vector<double> precision_;  // diagonal of C^-1, by row
};

}  // namespace backplan

// The only door to Eigen's factorisations: small dense fits.
#pragma once

#include <vector>

namespace backplan {

// Stacked rows of a linear model; every row is already divided by its standard deviation.
struct WhitenedRows {
  int columns = 0;
  std::vector<double> design;  // row after row
  std::vector<double> target;
};

struct LinearFit {
  std::vector<double> estimate;
  std::vector<double> covariance;  // columns x columns, row after row, for unit-variance rows
  double residual_square = 0.0;
  double log_determinant = 0.0;  // of the triangular factor: half of that of the normal matrix
};

// Least squares by Householder QR. The rows must have full column rank: prior rows see to that.
[[nodiscard]] LinearFit fit_rows(const WhitenedRows& rows);

// Solves L x = b for each column of `right` (n x columns, row after row), L the Cholesky factor of
// the n x n covariance: turns correlated rows into independent ones of unit variance.
[[nodiscard]] std::vector<double> whiten(const std::vector<double>& covariance, int n,
                                         const std::vector<double>& right, int columns);

// What all other rows say of each row, in a model y = A x + e with correlated errors e and prior rows on x.
struct LeftOut {
  std::vector<double> mean;  // of the row's target
  std::vector<double>
      variance;  // of its target, its own noise included; very large: nothing else says anything
};

// Correlated errors, factored once. C must be positive definite.
class CorrelatedErrors {
 public:
  CorrelatedErrors(const std::vector<double>& covariance, int n);  // n x n, row after row

  // L^-1 times each column of `right` (n x columns, row after row).
  [[nodiscard]] std::vector<double> whiten(const std::vector<double>& right, int columns) const;
  // `design` (n x columns, row after row) and `target` as they are, not whitened; `fit` of the whitened rows
  // and any prior rows.
  [[nodiscard]] LeftOut leave_one_out(const std::vector<double>& design, const std::vector<double>& target,
                                      const LinearFit& fit) const;
  // C^-1 times one vector.
  [[nodiscard]] std::vector<double> solve(const std::vector<double>& right) const;

 private:
  int n_;
  std::vector<double> factor_;  // L, row after row
};

}  // namespace backplan

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

// A row that says what one column is believed to be.
void add_prior(WhitenedRows& rows, int column, double mean, double sd);

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

}  // namespace backplan

// The errors of a straying level against the dense matrix that they stand for.
#include "core/straying_errors.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "support/random_source.hpp"

namespace backplan {
namespace {

struct Rows {
  std::vector<ErrorOf> errors;
  std::vector<double> design, target;  // three columns
};
constexpr int kColumns = 3;

Rows random_rows(std::uint64_t seed, int n) {
  testing::RandomSource random(seed);
  Rows rows;
  for (int i = 0; i < n; ++i) {
    ErrorOf error;
    error.variance = random.real(0.0004, 0.004);
    error.stray = i % 4 == 1 ? 0.0 : 0.001 * random.integer(0, 6);  // several on one day, some today
    error.walks = i % 7 != 3;
    rows.errors.push_back(error);
    for (int c = 0; c < kColumns; ++c) rows.design.push_back(c == 0 ? 1.0 : random.real());
    rows.target.push_back(5.0 + 0.1 * random.normal());
  }
  return rows;
}

std::vector<double> dense(const std::vector<ErrorOf>& errors) {
  const std::size_t n = errors.size();
  std::vector<double> out(n * n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      const bool both = errors[i].walks && errors[j].walks;
      if (both) out[i * n + j] = std::min(errors[i].stray, errors[j].stray);
    }
    out[i * n + i] += errors[i].variance;
  }
  return out;
}

// Rows whitened by the dense factor or by the passes, with one prior row a column.
LinearFit fit_with(const std::vector<double>& white_design, const std::vector<double>& white_target) {
  WhitenedRows rows{kColumns, white_design, white_target};
  for (int c = 0; c < kColumns; ++c) {
    for (int other = 0; other < kColumns; ++other) rows.design.push_back(c == other ? 0.5 : 0.0);
    rows.target.push_back(0.2);
  }
  return fit_rows(rows);
}

LinearFit fit_densely(const Rows& rows) {
  const auto n = static_cast<int>(rows.errors.size());
  const auto c = dense(rows.errors);
  return fit_with(whiten(c, n, rows.design, kColumns), whiten(c, n, rows.target, 1));
}

LinearFit fit_by_passes(const Rows& rows) {
  const StrayingErrors errors(rows.errors);
  return fit_with(errors.whiten(rows.design, kColumns), errors.whiten(rows.target, 1));
}

TEST(StrayingErrors, FitAsTheDenseMatrixDoes) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Rows rows = random_rows(seed, 5 + static_cast<int>(seed));
    const LinearFit a = fit_densely(rows);
    const LinearFit b = fit_by_passes(rows);
    for (std::size_t i = 0; i < a.estimate.size(); ++i) EXPECT_NEAR(a.estimate[i], b.estimate[i], 1e-10);
    for (std::size_t i = 0; i < a.covariance.size(); ++i) {
      EXPECT_NEAR(a.covariance[i], b.covariance[i], 1e-12);
    }
    EXPECT_NEAR(a.residual_square, b.residual_square, 1e-8 * a.residual_square);
    EXPECT_NEAR(a.log_determinant, b.log_determinant, 1e-10);
  }
}

TEST(StrayingErrors, SolveTheDenseMatrix) {
  const Rows rows = random_rows(7, 25);
  const auto c = dense(rows.errors);
  const auto x = StrayingErrors(rows.errors).solve(rows.target, 1);
  for (std::size_t i = 0; i < x.size(); ++i) {
    double sum = 0.0;
    for (std::size_t j = 0; j < x.size(); ++j) sum += c[i * x.size() + j] * x[j];
    EXPECT_NEAR(sum, rows.target[i], 1e-10);
  }
}

// Each row is really left out and predicted from the rest. A row outside the walk needs no more than the
// parameters; one inside is predicted in a fit that holds it with next to no weight.
TEST(StrayingErrors, LeaveOneOutAgreesWithLeavingOut) {
  const Rows rows = random_rows(3, 14);
  const LeftOut quick =
      StrayingErrors(rows.errors).leave_one_out(rows.design, rows.target, fit_by_passes(rows));
  constexpr double kHuge = 1e6;
  for (std::size_t i = 0; i < rows.errors.size(); ++i) {
    Rows others = rows;
    others.errors[i].variance = kHuge;
    const LeftOut slow =
        StrayingErrors(others.errors).leave_one_out(others.design, others.target, fit_by_passes(others));
    EXPECT_NEAR(quick.mean[i], slow.mean[i], 1e-5);
    EXPECT_NEAR(quick.variance[i], slow.variance[i] - kHuge + rows.errors[i].variance, 1e-6);
  }
}

TEST(StrayingErrors, ASingleReadingHasNothingToCompareWith) {
  const StrayingErrors errors({{0.001, 0.002, true}});
  const auto design = std::vector<double>{1.0};
  const auto target = std::vector<double>{5.0};
  const LinearFit fit = fit_rows({1, errors.whiten(design, 1), errors.whiten(target, 1)});
  EXPECT_EQ(errors.leave_one_out(design, target, fit).variance[0], kNoInformation);
}

}  // namespace
}  // namespace backplan

#include "core/linear_algebra.hpp"

#include <Eigen/Dense>
#include <cmath>

#include "backplan/numeric.hpp"

namespace backplan {
namespace {
using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

// Below this share of a row's own precision the other rows say nothing that rounding would leave.
constexpr double kNothingLeft = 1e-11;
constexpr double kNoInformation = 1e30;  // a variance

Eigen::Map<const RowMajor> as_matrix(const std::vector<double>& values, Eigen::Index rows,
                                     Eigen::Index columns) {
  return {values.data(), rows, columns};
}

Eigen::Map<const Eigen::VectorXd> as_vector(const std::vector<double>& values) {
  return {values.data(), static_cast<Eigen::Index>(values.size())};
}
}  // namespace

LinearFit fit_rows(const WhitenedRows& rows) {
  const auto n = static_cast<Eigen::Index>(rows.target.size());
  const Eigen::Index columns = rows.columns;
  const Eigen::MatrixXd design = Eigen::Map<const RowMajor>(rows.design.data(), n, columns);
  const Eigen::VectorXd target = Eigen::Map<const Eigen::VectorXd>(rows.target.data(), n);
  const Eigen::HouseholderQR<Eigen::MatrixXd> qr(design);
  const Eigen::VectorXd estimate = qr.solve(target);
  const Eigen::MatrixXd upper =
      qr.matrixQR().topLeftCorner(columns, columns).template triangularView<Eigen::Upper>();
  const Eigen::MatrixXd inverse =
      upper.template triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(columns, columns));
  const RowMajor covariance = inverse * inverse.transpose();
  LinearFit fit;
  fit.estimate.assign(estimate.data(), estimate.data() + columns);
  fit.covariance.assign(covariance.data(), covariance.data() + columns * columns);
  fit.residual_square = (design * estimate - target).squaredNorm();
  for (Eigen::Index i = 0; i < columns; ++i) fit.log_determinant += numeric::log(std::fabs(upper(i, i)));
  return fit;
}

std::vector<double> whiten(const std::vector<double>& covariance, int n, const std::vector<double>& right,
                           int columns) {
  const Eigen::MatrixXd c = Eigen::Map<const RowMajor>(covariance.data(), n, n);
  const Eigen::LLT<Eigen::MatrixXd> factor(c);
  RowMajor out = Eigen::Map<const RowMajor>(right.data(), n, columns);
  const Eigen::MatrixXd solved = factor.matrixL().solve(Eigen::MatrixXd(out));
  out = solved;
  return {out.data(), out.data() + out.size()};
}

CorrelatedErrors::CorrelatedErrors(const std::vector<double>& covariance, int n) : n_(n) {
  const Eigen::LLT<Eigen::MatrixXd> llt(Eigen::MatrixXd(as_matrix(covariance, n, n)));
  const RowMajor lower = llt.matrixL();
  factor_.assign(lower.data(), lower.data() + lower.size());
}

std::vector<double> CorrelatedErrors::whiten(const std::vector<double>& right, int columns) const {
  const RowMajor out = as_matrix(factor_, n_, n_)
                           .template triangularView<Eigen::Lower>()
                           .solve(Eigen::MatrixXd(as_matrix(right, n_, columns)));
  return {out.data(), out.data() + out.size()};
}

std::vector<double> CorrelatedErrors::solve(const std::vector<double>& right) const {
  const auto lower = as_matrix(factor_, n_, n_).template triangularView<Eigen::Lower>();
  const Eigen::VectorXd half = lower.solve(Eigen::VectorXd(as_vector(right)));
  const Eigen::VectorXd out = lower.transpose().solve(half);
  return {out.data(), out.data() + out.size()};
}

// With P the precision of all targets together, the prior rows included, the prediction of row j from all
// others is y_j - (P (y - E y))_j / P_jj with variance 1 / P_jj. Here P = C^-1 - C^-1 A V A^T C^-1, V the
// covariance of the fit, and P (y - E y) = C^-1 (y - A x).
LeftOut CorrelatedErrors::leave_one_out(const std::vector<double>& design, const std::vector<double>& target,
                                        const LinearFit& fit) const {
  const auto columns = static_cast<Eigen::Index>(fit.estimate.size());
  const auto lower = as_matrix(factor_, n_, n_).template triangularView<Eigen::Lower>();
  const Eigen::MatrixXd inverse = lower.solve(Eigen::MatrixXd::Identity(n_, n_));
  const Eigen::MatrixXd rows = as_matrix(design, n_, columns);
  const Eigen::MatrixXd through = inverse.transpose() * (inverse * rows);
  const Eigen::MatrixXd covariance = as_matrix(fit.covariance, columns, columns);
  const Eigen::VectorXd residual = as_vector(target) - rows * as_vector(fit.estimate);
  const Eigen::VectorXd pull = inverse.transpose() * (inverse * residual);
  LeftOut out;
  for (Eigen::Index j = 0; j < n_; ++j) {
    const double own = inverse.col(j).squaredNorm();
    const double precision = own - through.row(j) * covariance * through.row(j).transpose();
    const bool nothing = !(precision > kNothingLeft * own);
    const double y = target[static_cast<std::size_t>(j)];
    out.mean.push_back(nothing ? y : y - pull(j) / precision);
    out.variance.push_back(nothing ? kNoInformation : 1.0 / precision);
  }
  return out;
}

}  // namespace backplan

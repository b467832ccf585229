#include "core/linear_algebra.hpp"

#include <Eigen/Dense>
#include <cmath>

#include "backplan/numeric.hpp"

namespace backplan {
namespace {
using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
}

void add_prior(WhitenedRows& rows, int column, double mean, double sd) {
  for (int c = 0; c < rows.columns; ++c) rows.design.push_back(c == column ? 1.0 / sd : 0.0);
  rows.target.push_back(mean / sd);
}

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

}  // namespace backplan

#include "core/straying_errors.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace backplan {
namespace {

// Below this share of a row's own precision the other rows say nothing that rounding would leave.
constexpr double kNothingLeft = 1e-11;

}  // namespace

// The filter of a level that walks: each row is predicted from those nearer to today (Kalman 1960), and the
// diagonal of C^-1 comes from the pass back (de Jong 1989, J Am Stat Assoc 84:1085; both from memory, tested
// against the dense matrix).
StrayingErrors::StrayingErrors(const std::vector<ErrorOf>& errors) : precision_(errors.size()) {
  std::vector<std::size_t> order(errors.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return errors[a].stray < errors[b].stray; });
  double stray = 0.0;
  double walk = 0.0;  // variance of the walk given the rows so far
  for (const std::size_t row : order) {
    const ErrorOf& error = errors[row];
    if (!error.walks) {
      steps_.push_back({row, error.variance, 0.0, false});
      continue;
    }
    walk += error.stray - stray;
    stray = error.stray;
    const double variance = walk + error.variance;
    steps_.push_back({row, variance, walk / variance, true});
    walk *= error.variance / variance;
  }
  double later = 0.0;
  for (auto step = steps_.rbegin(); step != steps_.rend(); ++step) {
    precision_[step->row] = 1.0 / step->variance + step->gain * step->gain * later;
    if (!step->walks) continue;
    const double kept = 1.0 - step->gain;
    later = 1.0 / step->variance + kept * kept * later;
  }
}

std::vector<double> StrayingErrors::innovations(const std::vector<double>& right, int columns) const {
  const auto width = static_cast<std::size_t>(columns);
  std::vector<double> out(right.size());
  std::vector<double> level(width, 0.0);
  for (const Step& step : steps_) {
    for (std::size_t c = 0; c < width; ++c) {
      const std::size_t at = step.row * width + c;
      // A row outside the walk has no gain, and what the others say does not touch it.
      out[at] = right[at] - (step.walks ? level[c] : 0.0);
      level[c] += step.gain * out[at];
    }
  }
  return out;
}

std::vector<double> StrayingErrors::whiten(const std::vector<double>& right, int columns) const {
  const auto width = static_cast<std::size_t>(columns);
  std::vector<double> out = innovations(right, columns);
  for (const Step& step : steps_) {
    const double sd = std::sqrt(step.variance);
    for (std::size_t c = 0; c < width; ++c) out[step.row * width + c] /= sd;
  }
  return out;
}

std::vector<double> StrayingErrors::solve(const std::vector<double>& right, int columns) const {
  const auto width = static_cast<std::size_t>(columns);
  std::vector<double> out = innovations(right, columns);
  std::vector<double> back(width, 0.0);
  for (auto step = steps_.rbegin(); step != steps_.rend(); ++step) {
    for (std::size_t c = 0; c < width; ++c) {
      double& value = out[step->row * width + c];
      value = value / step->variance - step->gain * back[c];
      if (step->walks) back[c] += value;
    }
  }
  return out;
}

// With P the precision of all targets together, the prior rows included, the prediction of row j from all
// others is y_j - (P (y - E y))_j / P_jj with variance 1 / P_jj. Here P = C^-1 - C^-1 A V A^T C^-1, V the
// covariance of the fit, and P (y - E y) = C^-1 (y - A x).
LeftOut StrayingErrors::leave_one_out(const std::vector<double>& design, const std::vector<double>& target,
                                      const LinearFit& fit) const {
  const std::size_t width = fit.estimate.size();
  const std::vector<double> through = solve(design, static_cast<int>(width));
  std::vector<double> residual = target;
  for (std::size_t i = 0; i < target.size(); ++i) {
    for (std::size_t c = 0; c < width; ++c) residual[i] -= design[i * width + c] * fit.estimate[c];
  }
  const std::vector<double> pull = solve(residual, 1);
  LeftOut out;
  for (std::size_t i = 0; i < target.size(); ++i) {
    double explained = 0.0;
    for (std::size_t a = 0; a < width; ++a) {
      for (std::size_t b = 0; b < width; ++b) {
        explained += through[i * width + a] * fit.covariance[a * width + b] * through[i * width + b];
      }
    }
    const double precision = precision_[i] - explained;
    const bool nothing = !(precision > kNothingLeft * precision_[i]);
    out.mean.push_back(nothing ? target[i] : target[i] - pull[i] / precision);
    out.variance.push_back(nothing ? kNoInformation : 1.0 / precision);
  }
  return out;
}

}  // namespace backplan

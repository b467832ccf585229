// The rows of a scale as abilities, and what a normal ability is worth on them.
#include <algorithm>
#include <vector>

#include "backplan/numeric.hpp"
#include "backplan/outlook.hpp"

namespace backplan {
namespace {

constexpr double kSurely = 6.0;  // standard deviations: what is left out is under 1e-7 points
// Where points are known under the lowest row, that row is so far below the scale that all reach it: e^20.
constexpr double kFarBelow = 20.0;
// A scale of one row has no slope of its own: its whole worth is lost 25 % below it (judgement).
constexpr double kWorthPerV = 4.0;

}  // namespace

AbilityScale::AbilityScale(const Scale& scale, std::optional<Points> minimum) {
  if (scale.floor()) {
    const double front = ability_of(std::max(scale.rows().front().result, 1e-3), scale.direction());
    v_.push_back(front - kFarBelow);
    points_.push_back(*scale.floor());
    lowest_ = 1;
  }
  for (const Row& row : scale.rows()) {
    v_.push_back(ability_of(std::max(row.result, 1e-3), scale.direction()));
    points_.push_back(row.points);
  }
  const double rise = points_.back().value() - points_[lowest_].value();
  slope_ = v_.size() > lowest_ + 1 ? rise / (v_.back() - v_[lowest_]) : 0.0;
  if (lowest_ == 1 && v_.size() == 2) slope_ = kWorthPerV * (points_[1] - points_[0]).value();
  v_minimum_ = v_.front();
  for (std::size_t i = v_.size(); i-- > 0;) {
    if (!minimum || points_[i] >= *minimum) v_minimum_ = v_[i];
  }
}

double AbilityScale::expected_points(double mean, double sd) const {
  // Below the lowest row: E[slope * min(0, v - v_low)] in closed form.
  const double z = (mean - v_[lowest_]) / sd;
  double sum =
      points_.front().value() - slope_ * sd * (numeric::normal_pdf(z) - z * (1.0 - numeric::normal_cdf(z)));
  // Rows far below the mean are reached for sure, rows far above it never.
  const auto from = std::upper_bound(v_.begin(), v_.end(), mean - kSurely * sd);
  const auto to = std::upper_bound(from, v_.end(), mean + kSurely * sd);
  const auto first = std::max<std::size_t>(1, static_cast<std::size_t>(from - v_.begin()));
  sum += (points_[first - 1] - points_.front()).value();
  for (std::size_t i = first; i < static_cast<std::size_t>(to - v_.begin()); ++i) {
    sum += (points_[i] - points_[i - 1]).value() * numeric::normal_cdf((mean - v_[i]) / sd);
  }
  return sum;
}

double AbilityScale::p_below_minimum(double mean, double sd) const {
  return numeric::normal_cdf((v_minimum_ - mean) / sd);
}

}  // namespace backplan

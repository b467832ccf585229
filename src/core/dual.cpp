#include "core/dual.hpp"

#include <algorithm>

namespace backplan {
namespace {

constexpr double kLossScale = 20.0;  // a unit of L moves a result about as much as twenty of S

double slope_of_s(const DualPoint& point, std::size_t e) { return point.week_s[e] - point.star_s[e]; }

double slope_of_loss(const DualPoint& point, std::size_t e) {
  return (point.star_loss[e] - point.week_loss[e]) * kLossScale;
}

}  // namespace

double squared_slope(const DualPoint& point) {
  double square = 0.0;
  for (std::size_t e = 0; e < point.star_s.size(); ++e) {
    const double s = slope_of_s(point, e);
    const double loss = slope_of_loss(point, e);
    square += s * s + loss * loss;
  }
  return square;
}

void step_down(Prices& prices, const DualPoint& point, double length) {
  for (std::size_t e = 0; e < point.star_s.size(); ++e) {
    prices.s[e] = std::max(0.0, prices.s[e] - length * slope_of_s(point, e));
    prices.loss[e] = std::max(0.0, prices.loss[e] - length * kLossScale * slope_of_loss(point, e));
  }
}

}  // namespace backplan

// What heat and height of the place take from a run, by published figures. docs/mathematics.md, "Test day".
#include <algorithm>

#include "backplan/running.hpp"
#include "backplan/test_day.hpp"

namespace backplan {
namespace {

constexpr double kMetresPerKilometre = 1000.0;

double fahrenheit(double celsius) { return celsius * 9.0 / 5.0 + 32.0; }

}  // namespace

Slowing slowing_by_heat(double wbgt_c, const HeatModel& model) {
  const double outside = std::max({0.0, wbgt_c - model.best_to_c, model.best_from_c - wbgt_c});
  const double least = outside * model.least_per_degree;
  const double most = outside * model.most_per_degree;
  return {least, 0.5 * (least + most), most, model.credit};
}

Slowing slowing_by_altitude(Metres altitude, Metres distance, Seconds time, const AltitudeModel& model) {
  const Metres above = std::clamp(altitude, model.from, model.most) - model.from;
  const double left = 1.0 - model.loss_per_km * above.value() / kMetresPerKilometre;
  const Seconds there = time_for_index(left * aerobic_index(distance, time), distance);
  const double whole = above.value() > 0.0 ? std::max(0.0, there / time - 1.0) : 0.0;
  const double least = whole * model.least_share;
  const double most = whole * model.most_share;
  return {least, 0.5 * (least + most), most, model.credit};
}

std::optional<HeatCategory> heat_category(double wbgt_c, const std::vector<HeatCategory>& categories) {
  constexpr double kDegreeSlack = 1e-9;  // 90 °F is not quite 90 when it comes from 32.2 °C
  std::optional<HeatCategory> found;
  for (const HeatCategory& one : categories) {
    if (fahrenheit(wbgt_c) >= one.from_f - kDegreeSlack) found = one;
  }
  return found;
}

}  // namespace backplan

// Single figures of the forecast, without the distribution of the total where the floors decide alone.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "backplan/numeric.hpp"
#include "core/day_chances.hpp"

namespace backplan {

DayFigures::DayFigures(const std::vector<EventState>& states, const Candidate& candidate,
                       const Standard& standard, const Model& model)
    : states_(states),
      standard_(standard),
      category_(*standard.find_category(candidate.category)),
      model_(model) {
  for (const EventState& state : states) {
    scales_.emplace_back(*state.scale, pass_minimum(category_, *state.event));
    weights_.push_back(weight_of(standard, state.event->id));
  }
  pass_ = limits_for(pass_floors(category_, states), pass_total(category_));
  target_ =
      limits_for(target_floors(candidate, category_, states), target_total(category_, candidate.target));
}

DayFigures::Limits DayFigures::limits_for(std::vector<std::optional<Points>> points, double total) const {
  Limits out;
  out.total = total;
  double sum = 0.0;
  for (std::size_t e = 0; e < points.size(); ++e) {
    const auto& rows = scales_[e].points();
    const Points floor = points[e].value_or(rows.front());
    sum += std::floor(floor.tenths() * weights_[e] + 0.5) / kTenTh;
    const auto at =
        static_cast<std::size_t>(std::lower_bound(rows.begin(), rows.end(), floor) - rows.begin());
    out.v.push_back(at < rows.size() ? scales_[e].thresholds()[at] : std::numeric_limits<double>::infinity());
  }
  out.decide = sum >= total - 1e-9;
  out.points = std::move(points);
  return out;
}

double DayFigures::chance_of(const Limits& limits, const Dosage& dosage) const {
  if (!limits.decide)
    return mass(DayChances(states_, standard_, category_, model_, dosage).total_over(limits.points),
                limits.total);
  const double share = model_.common.variance_share;
  std::array<double, kCommonNodes.size()> all{};
  all.fill(1.0);
  for (std::size_t e = 0; e < states_.size(); ++e) {
    std::array<double, kCommonNodes.size()> reach{};
    for (const auto& node : states_[e].nodes) {
      const double mean = states_[e].mean_at(node, dosage.s[e], dosage.loss[e]);
      const double sd = test_day_sd(states_[e], node, dosage.s[e], mean);
      for (std::size_t i = 0; i < reach.size(); ++i) {
        const double own_mean = mean + sd * std::sqrt(share) * kCommonNodes[i];
        reach[i] +=
            node.weight * numeric::normal_cdf((own_mean - limits.v[e]) / (sd * std::sqrt(1.0 - share)));
      }
    }
    for (std::size_t i = 0; i < all.size(); ++i) all[i] *= reach[i];
  }
  double sum = 0.0;
  for (std::size_t i = 0; i < all.size(); ++i) sum += kCommonWeights[i] * all[i];
  return sum;
}

double DayFigures::chance_of_passing(const Dosage& dosage) const { return chance_of(pass_, dosage); }

double DayFigures::chance_of_target(const Dosage& dosage) const { return chance_of(target_, dosage); }

double DayFigures::expected_total(const Dosage& dosage) const {
  double sum = 0.0;
  for (std::size_t e = 0; e < states_.size(); ++e) {
    for (const auto& node : states_[e].nodes) {
      const double mean = states_[e].mean_at(node, dosage.s[e], dosage.loss[e]);
      sum += weights_[e] * node.weight *
             scales_[e].expected_points(mean, test_day_sd(states_[e], node, dosage.s[e], mean));
    }
  }
  return sum;
}

}  // namespace backplan

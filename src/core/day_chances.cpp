#include "core/day_chances.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "backplan/numeric.hpp"

namespace backplan {
namespace {

void add(Total& sum, const Total& part, double weight) {
  if (sum.p.empty()) sum = Total{std::vector<double>(part.p.size(), 0.0), part.least, part.step};
  for (std::size_t i = 0; i < part.p.size(); ++i) sum.p[i] += weight * part.p[i];
}

}  // namespace

double weight_of(const Standard& standard, const std::string& event) {
  if (standard.total == TotalKind::mean) return 1.0 / static_cast<double>(standard.events.size());
  const auto found = standard.weights.find(event);
  return standard.total == TotalKind::weighted && found != standard.weights.end() ? found->second : 1.0;
}

Floors pass_floors(const Category& category, const std::vector<EventState>& states) {
  Floors floors;
  for (const EventState& state : states) floors.push_back(pass_minimum(category, *state.event));
  return floors;
}

Floors target_floors(const Candidate& candidate, const Category& category,
                     const std::vector<EventState>& states) {
  auto floors = pass_floors(category, states);
  for (std::size_t e = 0; e < states.size(); ++e) {
    const auto own = candidate.target.asked_of(states[e].event->id);
    if (own && (!floors[e] || *own > *floors[e])) floors[e] = own;
  }
  return floors;
}

double pass_total(const Category& category) {
  return category.total_minimum ? category.total_minimum->value() : kNoFloor;
}

double target_total(const Category& category, const Target& target) {
  return std::max(pass_total(category), target.total ? target.total->value() : kNoFloor);
}

double mass(const Total& total, double at_least_points) {
  double sum = 0.0;
  for (std::size_t i = 0; i < total.p.size(); ++i) {
    if (total.points(i) >= at_least_points - 1e-9) sum += total.p[i];
  }
  return sum;
}

DayChances::DayChances(const std::vector<EventState>& states, const Standard& standard,
                       const Category& category, const Model& model, const Dosage& dosage)
    : states_(states), standard_(standard), share_(model.common.variance_share), dosage_(dosage) {
  for (const auto& state : states) scales_.emplace_back(*state.scale, pass_minimum(category, *state.event));
  set_tenths();
  for (double z : kCommonNodes) by_node_.push_back(chances_at(z));
}

Total DayChances::total_over(const Floors& floors) const {
  Total sum;
  for (std::size_t node = 0; node < by_node_.size(); ++node) {
    add(sum, convolve(by_node_[node], floors), kCommonWeights[node]);
  }
  return sum;
}

double DayChances::p_at_least(std::size_t event, Points points) const {
  double sum = 0.0;
  for (std::size_t node = 0; node < by_node_.size(); ++node) {
    const auto& rows = scales_[event].points();
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (rows[i] >= points) sum += kCommonWeights[node] * by_node_[node][event].at[i];
    }
  }
  return sum;
}

void DayChances::set_tenths() {
  for (std::size_t e = 0; e < states_.size(); ++e) {
    const double weight = weight_of(standard_, states_[e].event->id);
    std::vector<int> tenths;
    for (const Points p : scales_[e].points())
      tenths.push_back(static_cast<int>(std::floor(p.tenths() * weight + 0.5)));
    for (const int t : tenths) step_ = std::gcd(step_, t - tenths.front());
    tenths_.push_back(std::move(tenths));
  }
  if (step_ == 0) step_ = 1;  // each event has a single row
}

std::vector<DayChances::RowChances> DayChances::chances_at(double z) const {
  std::vector<RowChances> out;
  for (std::size_t e = 0; e < states_.size(); ++e) {
    RowChances rows;
    rows.at.assign(scales_[e].thresholds().size(), 0.0);
    for (const auto& node : states_[e].nodes) add_node(rows, e, node, z);
    out.push_back(std::move(rows));
  }
  return out;
}

void DayChances::add_node(RowChances& rows, std::size_t e, const EventState::Node& node, double z) const {
  const double mean = states_[e].mean_at(node, dosage_.s[e], dosage_.loss[e]);
  const double sd = test_day_sd(states_[e], node, dosage_.s[e], mean);
  const double own_mean = mean + sd * std::sqrt(share_) * z;
  const double own_sd = sd * std::sqrt(1.0 - share_);
  const auto& v = scales_[e].thresholds();
  double above = 0.0;
  for (std::size_t i = v.size(); i-- > 0;) {
    const double reach = numeric::normal_cdf((own_mean - v[i]) / own_sd);
    rows.at[i] += node.weight * std::max(0.0, reach - above);
    above = std::max(above, reach);
  }
}

Total DayChances::convolve(const std::vector<RowChances>& chances, const Floors& floors) const {
  Total total{{1.0}, 0, step_};
  for (std::size_t e = 0; e < chances.size(); ++e) {
    const auto& rows = scales_[e].points();
    const int low = tenths_[e].front();
    const auto width = static_cast<std::size_t>((tenths_[e].back() - low) / step_) + 1;
    Total next{std::vector<double>(total.p.size() + width - 1, 0.0), total.least + low, step_};
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const double p = chances[e].at[i];
      if (p == 0.0 || (floors[e] && rows[i] < *floors[e])) continue;
      const auto shift = static_cast<std::size_t>((tenths_[e][i] - low) / step_);
      for (std::size_t j = 0; j < total.p.size(); ++j) next.p[j + shift] += p * total.p[j];
    }
    total = std::move(next);
  }
  return total;
}

}  // namespace backplan

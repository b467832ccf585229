#include "core/event_value.hpp"

#include <algorithm>
#include <cmath>

namespace backplan {
namespace {

constexpr double kNodesAUnit = 2.0;  // of S
constexpr int kFewestIntervals = 16, kMostIntervals = 64;
constexpr int kLossIntervals = 6;
constexpr double kLeastS = 0.1, kLeastLoss = 0.001;  // so that the grid has a width

}  // namespace

EventValue::EventValue(const EventState& state, const AbilityScale& scale, double weight, double cost,
                       double most_s, double most_loss) {
  const int intervals = std::clamp(static_cast<int>(kNodesAUnit * most_s), kFewestIntervals, kMostIntervals);
  for (int i = 0; i <= intervals; ++i) s_.push_back(std::max(most_s, kLeastS) * i / intervals);
  for (int j = 0; j <= kLossIntervals; ++j) {
    const double share = static_cast<double>(j) / kLossIntervals;
    loss_.push_back(std::max(most_loss, kLeastLoss) * share * share);
  }
  f_.reserve(s_.size() * loss_.size());
  for (const double s : s_) {
    for (const double loss : loss_) {
      double sum = 0.0;
      for (const auto& node : state.nodes) {
        const double mean = state.mean_at(node, s, loss);
        const double sd = test_day_sd(state, node, s, mean);
        sum += node.weight * (scale.expected_points(mean, sd) - cost * scale.p_below_minimum(mean, sd));
      }
      f_.push_back(weight * sum);
    }
  }
  // More work never counts as worth less: a spread that grows with S can dent F by a hair.
  for (std::size_t at = loss_.size(); at < f_.size(); ++at) f_[at] = std::max(f_[at], f_[at - loss_.size()]);
}

double EventValue::place_of_s(double s) const {
  return std::clamp(s / s_[1], 0.0, static_cast<double>(s_.size() - 1));
}

double EventValue::place_of_loss(double loss) const {
  const double root = std::sqrt(std::max(0.0, loss / loss_[1]));
  const int last = loss_nodes() - 1;
  const int j = std::clamp(static_cast<int>(root), 0, last - 1);
  const double from = loss_of(j);
  return j + std::clamp((loss - from) / (loss_of(j + 1) - from), 0.0, 1.0);
}

double EventValue::at(double s, double loss) const {
  const double x = place_of_s(s);
  const double y = place_of_loss(loss);
  const int i = std::min(static_cast<int>(x), s_nodes() - 2);
  const int j = std::min(static_cast<int>(y), loss_nodes() - 2);
  const double a = x - i;
  const double b = y - j;
  return (1 - a) * ((1 - b) * node(i, j) + b * node(i, j + 1)) +
         a * ((1 - b) * node(i + 1, j) + b * node(i + 1, j + 1));
}

}  // namespace backplan

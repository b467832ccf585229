#include "core/event_value.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace backplan {
namespace {

constexpr double kNodesAUnit = 2.0;  // of S
constexpr int kFewestIntervals = 16, kMostIntervals = 64;
constexpr int kLossIntervals = 6;
constexpr double kLeastS = 0.1, kLeastLoss = 0.001;  // so that the grid has a width

// What a normal ability is worth: E[points] - cost P(below the minimum). The step scale is smoothed by the
// spread, so a table of it is filled with far fewer looks at the scale than F has nodes: cubic in the mean
// at a quarter of the least spread (error under 0.002 points at a step of 15), quadratic in the spread.
class WorthOfAbility {
 public:
  struct Span {
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    void take_in(double x) {
      low = std::min(low, x);
      high = std::max(high, x);
    }
  };

  WorthOfAbility(const AbilityScale& scale, double cost, const Span& means, const Span& sds)
      : step_(kStepOfSd * sds.low), first_(means.low - 1.5 * step_), low_sd_(sds.low) {
    half_sd_ = std::max(0.5 * (sds.high - sds.low), kLeastHalfSd);
    means_ = static_cast<int>((means.high - means.low) / step_) + 5;
    for (int j = 0; j < kSds; ++j) {
      const double sd = low_sd_ + j * half_sd_;
      for (int i = 0; i < means_; ++i) {
        const double mean = first_ + i * step_;
        worth_.push_back(scale.expected_points(mean, sd) - cost * scale.p_below_minimum(mean, sd));
      }
    }
  }

  [[nodiscard]] double at(double mean, double sd) const {
    const double place = (mean - first_) / step_;
    const int i = std::clamp(static_cast<int>(place), 1, means_ - 3);
    const double x = place - i;
    const double y = (sd - low_sd_) / half_sd_;
    // Lagrange's weights: at -1, 0, 1, 2 in the mean, at 0, 1, 2 in the spread.
    const double wx[] = {-x * (x - 1) * (x - 2) / 6, (x + 1) * (x - 1) * (x - 2) / 2,
                         -(x + 1) * x * (x - 2) / 2, (x + 1) * x * (x - 1) / 6};
    const double wy[] = {(y - 1) * (y - 2) / 2, -y * (y - 2), y * (y - 1) / 2};
    double sum = 0.0;
    for (int j = 0; j < kSds; ++j) {
      for (int n = 0; n < 4; ++n)
        sum += wy[j] * wx[n] * worth_[static_cast<std::size_t>(j * means_ + i - 1 + n)];
    }
    return sum;
  }

 private:
  static constexpr double kStepOfSd = 0.25;
  static constexpr double kLeastHalfSd = 1e-6;
  static constexpr int kSds = 3;
  double step_, first_, low_sd_;
  double half_sd_ = 0.0;
  int means_ = 0;
  std::vector<double> worth_;  // spread x mean
};

}  // namespace

EventValue::EventValue(const EventState& state, const AbilityScale& scale, double weight, double cost,
                       double most_s, double most_loss) {
  const int intervals = std::clamp(static_cast<int>(kNodesAUnit * most_s), kFewestIntervals, kMostIntervals);
  for (int i = 0; i <= intervals; ++i) s_.push_back(std::max(most_s, kLeastS) * i / intervals);
  for (int j = 0; j <= kLossIntervals; ++j) {
    const double share = static_cast<double>(j) / kLossIntervals;
    loss_.push_back(std::max(most_loss, kLeastLoss) * share * share);
  }
  struct Ability {
    double weight, mean, sd;
  };
  std::vector<Ability> abilities;  // s x loss x node
  WorthOfAbility::Span means, sds;
  for (const double s : s_) {
    for (const double loss : loss_) {
      for (const auto& node : state.nodes) {
        const double mean = state.mean_at(node, s, loss);
        abilities.push_back({node.weight, mean, test_day_sd(state, node, s, mean)});
        means.take_in(mean);
        sds.take_in(abilities.back().sd);
      }
    }
  }
  const WorthOfAbility worth(scale, cost, means, sds);
  f_.assign(s_.size() * loss_.size(), 0.0);
  for (std::size_t i = 0; i < abilities.size(); ++i) {
    const Ability& ability = abilities[i];
    f_[i / state.nodes.size()] += weight * ability.weight * worth.at(ability.mean, ability.sd);
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

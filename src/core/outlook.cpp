#include "backplan/outlook.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

#include "backplan/numeric.hpp"

namespace backplan {
namespace {

constexpr double kTenTh = 10.0;
constexpr double kNoFloor = -1e9;            // of a total: under every total
constexpr double kZ80 = 1.2815515655446004;  // 10th to 90th percentile of a normal variable
// Bins of the total: the narrowest that give at most so many over all points that are worth showing.
constexpr std::array<double, 6> kBinWidths{1.0, 2.0, 5.0, 10.0, 20.0, 50.0};
constexpr double kMostBins = 30.0;
constexpr double kLeastShown = 1e-4;  // of a single total; what is rarer goes into the last bins
// Gauss-Hermite nodes of the common factor, as in progress.cpp.
constexpr std::array<double, 5> kCommonNodes{-2.856970013872806, -1.355626179974266, 0.0, 1.355626179974266,
                                             2.856970013872806};
constexpr std::array<double, 5> kCommonWeights{0.011257411327721, 0.222075922005613, 0.533333333333333,
                                               0.222075922005613, 0.011257411327721};

// Probabilities of one event's rows inside one node of the common factor; `below`: under the scale.
struct RowChances {
  std::vector<double> at;  // by row, ascending
};

struct Total {
  std::vector<double> p;  // from `least` on, in steps of `step`
  int least = 0;          // tenths of a point
  int step = 1;           // tenths of a point: whole points where the scales have nothing finer
  [[nodiscard]] double points(std::size_t i) const { return (least + static_cast<int>(i) * step) / kTenTh; }
};

double weight_of(const Standard& standard, const std::string& event) {
  if (standard.total == TotalKind::mean) return 1.0 / static_cast<double>(standard.events.size());
  const auto found = standard.weights.find(event);
  return standard.total == TotalKind::weighted && found != standard.weights.end() ? found->second : 1.0;
}

class DayChances {
 public:
  DayChances(const std::vector<EventState>& states, const Standard& standard, const Category& category,
             const Model& model, const Dosage& dosage)
      : states_(states), standard_(standard), share_(model.common.variance_share), dosage_(dosage) {
    for (const auto& state : states) scales_.emplace_back(*state.scale, pass_minimum(category, *state.event));
    set_tenths();
    for (double z : kCommonNodes) by_node_.push_back(chances_at(z));
  }

  // P(every event at its floor or better), and the distribution of the total over those days.
  // `floors` by event; none: the lowest row of the scale.
  [[nodiscard]] Total total_over(const std::vector<std::optional<Points>>& floors) const {
    Total sum;
    for (std::size_t node = 0; node < by_node_.size(); ++node) {
      add(sum, convolve(by_node_[node], floors), kCommonWeights[node]);
    }
    return sum;
  }

  [[nodiscard]] double p_at_least(std::size_t event, Points points) const {
    double sum = 0.0;
    for (std::size_t node = 0; node < by_node_.size(); ++node) {
      const auto& rows = scales_[event].points();
      for (std::size_t i = 0; i < rows.size(); ++i) {
        if (rows[i] >= points) sum += kCommonWeights[node] * by_node_[node][event].at[i];
      }
    }
    return sum;
  }

  [[nodiscard]] const AbilityScale& scale(std::size_t event) const { return scales_[event]; }

 private:
  void set_tenths() {
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

  [[nodiscard]] std::vector<RowChances> chances_at(double z) const {
    std::vector<RowChances> out;
    for (std::size_t e = 0; e < states_.size(); ++e) {
      RowChances rows;
      rows.at.assign(scales_[e].thresholds().size(), 0.0);
      for (const auto& node : states_[e].nodes) add_node(rows, e, node, z);
      out.push_back(std::move(rows));
    }
    return out;
  }

  void add_node(RowChances& rows, std::size_t e, const EventState::Node& node, double z) const {
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

  [[nodiscard]] Total convolve(const std::vector<RowChances>& chances,
                               const std::vector<std::optional<Points>>& floors) const {
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

  static void add(Total& sum, const Total& part, double weight) {
    if (sum.p.empty()) sum = Total{std::vector<double>(part.p.size(), 0.0), part.least, part.step};
    for (std::size_t i = 0; i < part.p.size(); ++i) sum.p[i] += weight * part.p[i];
  }

  const std::vector<EventState>& states_;
  const Standard& standard_;
  double share_;
  const Dosage& dosage_;
  int step_ = 0;  // of the totals
  std::vector<AbilityScale> scales_;
  std::vector<std::vector<int>> tenths_;  // by event and row: what a row adds to the total
  std::vector<std::vector<RowChances>> by_node_;
};

double mass(const Total& total, double at_least_points) {
  double sum = 0.0;
  for (std::size_t i = 0; i < total.p.size(); ++i) {
    if (total.points(i) >= at_least_points - 1e-9) sum += total.p[i];
  }
  return sum;
}

double quantile(const Total& total, double all, double share) {
  double sum = 0.0;
  for (std::size_t i = 0; i < total.p.size(); ++i) {
    sum += total.p[i];
    if (sum >= share * all) return total.points(i);
  }
  return total.points(total.p.size() - 1);
}

TotalOutlook describe(const Total& total, double all) {
  TotalOutlook out;
  if (all <= 0.0) return out;
  for (std::size_t i = 0; i < total.p.size(); ++i) {
    out.mean += total.p[i] / all * total.points(i);
  }
  out.low80 = quantile(total, all, 0.1);
  out.high80 = quantile(total, all, 0.9);
  return out;
}

std::optional<Points> own_floor(const Target& target, const std::string& event) {
  std::optional<Points> floor = target.each;
  if (const auto found = target.events.find(event); found != target.events.end()) {
    if (!floor || found->second > *floor) floor = found->second;
  }
  return floor;
}

std::vector<std::optional<Points>> pass_floors(const Category& category,
                                               const std::vector<EventState>& states) {
  std::vector<std::optional<Points>> floors;
  for (const EventState& state : states) floors.push_back(pass_minimum(category, *state.event));
  return floors;
}

std::vector<std::optional<Points>> target_floors(const Candidate& candidate, const Category& category,
                                                 const std::vector<EventState>& states) {
  auto floors = pass_floors(category, states);
  for (std::size_t e = 0; e < states.size(); ++e) {
    const auto own = own_floor(candidate.target, states[e].event->id);
    if (own && (!floors[e] || *own > *floors[e])) floors[e] = own;
  }
  return floors;
}

double total_floor(const Category& category, const Target& target) {
  const double pass = category.total_minimum ? category.total_minimum->value() : kNoFloor;
  return std::max(pass, target.total ? target.total->value() : kNoFloor);
}

// A result is never better than its scale's resolution can show: rounded to the harder side.
double rounded_result(const EventState& state, double v) {
  const double exact = result_of(v, state.event->direction);
  const double step = state.event->resolution;
  if (state.event->direction == Direction::more_is_better) return std::floor(exact / step + 1e-9) * step;
  return std::ceil(exact / step - 1e-9) * step;
}

EventOutlook describe_event(const EventState& state, const Dosage& dosage, std::size_t e) {
  EventOutlook out;
  out.event = state.event->id;
  out.measured = state.measured;
  const double now = rounded_result(state, state.v0);
  const Score now_score = state.scale->score(now);
  out.now_result = now;
  out.now_points = now_score.points;
  out.now_origin = now_score.origin;
  double mean = 0.0;
  double square = 0.0;
  for (const auto& node : state.nodes) {
    const double m = state.mean_at(node, dosage.s[e], dosage.loss[e]);
    const double sd = test_day_sd(state, node, dosage.s[e], m);
    mean += node.weight * m;
    square += node.weight * (m * m + sd * sd);
  }
  const double sd = std::sqrt(std::max(0.0, square - mean * mean));
  out.test_day_result = rounded_result(state, mean);
  out.test_day_low80 = rounded_result(state, mean - kZ80 * sd);
  out.test_day_high80 = rounded_result(state, mean + kZ80 * sd);
  const Score score = state.scale->score(out.test_day_result);
  out.test_day_points = score.points;
  out.test_day_origin = score.origin;
  return out;
}

}  // namespace

double test_day_sd(const EventState& state, const EventState::Node& node, double s, double mean) {
  const double noise = noise_of(*state.model, result_of(mean, state.event->direction));
  return std::sqrt(state.variance_at(node, s) + noise * noise);
}

std::optional<Points> pass_minimum(const Category& category) { return category.each_minimum; }

std::optional<Points> pass_minimum(const Category& category, const Event& event) {
  return category.minimum_of(event.id);
}

Outlook forecast(const std::vector<EventState>& states, const Candidate& candidate, const Standard& standard,
                 const Model& model, const Dosage& dosage) {
  const Category& category = *standard.find_category(candidate.category);
  const DayChances day(states, standard, category, model, dosage);
  const std::vector<std::optional<Points>> no_floors(states.size());
  const Total on_scale = day.total_over(no_floors);
  Outlook out;
  out.p_on_scale = mass(on_scale, -1e9);
  out.total = describe(on_scale, out.p_on_scale);
  const double pass_total = category.total_minimum ? category.total_minimum->value() : -1e9;
  out.p_pass = mass(day.total_over(pass_floors(category, states)), pass_total);
  const auto floors = target_floors(candidate, category, states);
  out.p_target = mass(day.total_over(floors), total_floor(category, candidate.target));
  for (std::size_t e = 0; e < states.size(); ++e) {
    EventOutlook event = describe_event(states[e], dosage, e);
    const auto minimum = pass_minimum(category, *states[e].event);
    event.p_minimum = day.p_at_least(e, minimum.value_or(states[e].scale->rows().front().points));
    event.p_own_target = floors[e] ? day.p_at_least(e, *floors[e]) : event.p_minimum;
    for (const auto& node : states[e].nodes) {
      const double m = states[e].mean_at(node, dosage.s[e], dosage.loss[e]);
      event.expected_points +=
          node.weight * day.scale(e).expected_points(m, test_day_sd(states[e], node, dosage.s[e], m));
    }
    out.events.push_back(event);
  }
  return out;
}

std::vector<TotalBin> total_bins(const std::vector<EventState>& states, const Candidate& candidate,
                                 const Standard& standard, const Model& model, const Dosage& dosage) {
  const Category& category = *standard.find_category(candidate.category);
  const DayChances day(states, standard, category, model, dosage);
  const Total total = day.total_over(std::vector<std::optional<Points>>(states.size()));
  const double all = mass(total, -1e9);
  if (all <= 0.0) return {};  // some event is never on its scale: there is no total to spread
  std::size_t first = total.p.size();
  std::size_t last = 0;
  for (std::size_t i = 0; i < total.p.size(); ++i) {
    if (total.p[i] < kLeastShown * all) continue;
    first = std::min(first, i);
    last = i;
  }
  if (first > last) return {};
  const double spread = total.points(last) - total.points(first);
  double width = kBinWidths.back();
  for (std::size_t i = kBinWidths.size(); i-- > 0;) {
    if (kBinWidths[i] * kMostBins >= spread) width = kBinWidths[i];
  }
  std::vector<TotalBin> bins;
  const double lowest = std::floor(total.points(first) / width);
  const auto number = static_cast<int>(std::floor(total.points(last) / width) - lowest) + 1;
  for (int i = 0; i < number; ++i) bins.push_back({(lowest + i) * width, (lowest + i + 1) * width, 0.0});
  for (std::size_t i = 0; i < total.p.size(); ++i) {
    const double place = std::floor((total.points(i) - bins.front().from) / width);
    const double at = std::clamp(place, 0.0, static_cast<double>(bins.size() - 1));
    bins[static_cast<std::size_t>(at)].p += total.p[i] / all;
  }
  return bins;
}

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
  pass_ = floors_for(pass_floors(category_, states),
                     category_.total_minimum ? category_.total_minimum->value() : -1e9);
  target_ = floors_for(target_floors(candidate, category_, states), total_floor(category_, candidate.target));
}

DayFigures::Floors DayFigures::floors_for(std::vector<std::optional<Points>> points, double total) const {
  Floors out;
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

double DayFigures::chance_of(const Floors& floors, const Dosage& dosage) const {
  if (!floors.decide)
    return mass(DayChances(states_, standard_, category_, model_, dosage).total_over(floors.points),
                floors.total);
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
            node.weight * numeric::normal_cdf((own_mean - floors.v[e]) / (sd * std::sqrt(1.0 - share)));
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

double total_within_reach(const std::vector<EventState>& states, const Candidate& candidate,
                          const Standard& standard, const Model& model, const Dosage& dosage,
                          double confidence) {
  const Category& category = *standard.find_category(candidate.category);
  const DayChances day(states, standard, category, model, dosage);
  const Total total = day.total_over(pass_floors(category, states));
  double sum = 0.0;
  for (std::size_t i = total.p.size(); i-- > 0;) {
    sum += total.p[i];
    if (sum >= confidence) return total.points(i);
  }
  return 0.0;
}

}  // namespace backplan

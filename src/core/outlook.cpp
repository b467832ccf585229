#include "backplan/outlook.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "backplan/numeric.hpp"
#include "core/day_chances.hpp"

namespace backplan {
namespace {

// Bins of the total: the narrowest that give at most so many over all points that are worth showing.
constexpr std::array<double, 6> kBinWidths{1.0, 2.0, 5.0, 10.0, 20.0, 50.0};
constexpr double kMostBins = 30.0;
constexpr double kLeastShown = 1e-4;  // of a single total; what is rarer goes into the last bins

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
  out.test_day_low80 = rounded_result(state, mean - numeric::kZ80 * sd);
  out.test_day_high80 = rounded_result(state, mean + numeric::kZ80 * sd);
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

int chance_step(double chance) {
  constexpr double kRounding = 1e-9;  // a chance of 0.8 may be stored a hair below
  constexpr int kSurest = 99;
  const auto hundredths = static_cast<int>(std::floor(chance * 100.0 + kRounding));
  if (chance >= 0.99 - kRounding) return kSurest;
  if (hundredths < 10 || hundredths >= 90) return std::max(0, hundredths);
  const double tenths = chance * 10.0 + kRounding;
  const auto whole = static_cast<int>(std::floor(tenths));
  return 10 * whole + (tenths - whole > 0.5 ? 5 : 0);
}

std::optional<Points> pass_minimum(const Category& category) { return category.each_minimum; }

std::optional<Points> pass_minimum(const Category& category, const Event& event) {
  return category.minimum_of(event.id);
}

Outlook forecast(const std::vector<EventState>& states, const Candidate& candidate, const Standard& standard,
                 const Model& model, const Dosage& dosage) {
  const Category& category = *standard.find_category(candidate.category);
  const DayChances day(states, standard, category, model, dosage);
  const Floors no_floors(states.size());
  const Total on_scale = day.total_over(no_floors);
  Outlook out;
  out.p_on_scale = mass(on_scale, kNoFloor);
  out.total = describe(on_scale, out.p_on_scale);
  out.p_pass = mass(day.total_over(pass_floors(category, states)), pass_total(category));
  const auto floors = target_floors(candidate, category, states);
  out.p_target = mass(day.total_over(floors), target_total(category, candidate.target));
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
  const Total total = day.total_over(Floors(states.size()));
  const double all = mass(total, kNoFloor);
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

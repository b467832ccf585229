// The fit from the journal: one growth task an event, re-based to today. docs/mathematics.md, "The fit from
// the journal".
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "backplan/numeric.hpp"
#include "backplan/units.hpp"
#include "core/dose_history.hpp"
#include "core/fit_record.hpp"
#include "core/growth_fit.hpp"
#include "core/history_evidence.hpp"
#include "core/progress_prior.hpp"

namespace backplan {
namespace {

constexpr double kPublishedExponent = 1.06;  // Riegel 1981, as in running.hpp
constexpr int kHabitDays = 56;  // what somebody has been doing is judged over eight weeks (judgement)
constexpr std::size_t kOfHeadroom = kGrowthColumns + 1;  // its variance in the covariance of a fit

struct Moments {
  double mean = 0.0, sd = 0.0;
};

// Over the nodes: of something linear in the fitted parameters with mean and variance in each.
template <class Of>
Moments over_nodes(const std::vector<GrowthNode>& nodes, Of of) {
  double mean = 0.0;
  double square = 0.0;
  for (const GrowthNode& node : nodes) {
    const auto [m, variance] = of(node);
    mean += node.weight * m;
    square += node.weight * (m * m + variance);
  }
  return {mean, std::sqrt(std::max(0.0, square - mean * mean))};
}

Moments of_column(const std::vector<GrowthNode>& nodes, int column) {
  const auto c = static_cast<std::size_t>(column);
  return over_nodes(nodes, [c](const GrowthNode& node) {
    return std::pair(node.fit.estimate[c], node.fit.covariance[c * kGrowthColumns + c]);
  });
}

// The person's common deviation in v, of the mean reading that has it.
std::optional<Learnt> learnt_bias(const GrowthFit& fit, int column, const std::vector<double>& multiples) {
  double sum = 0.0;
  int count = 0;
  for (const double one : multiples) {
    sum += one;
    count += one > 0.0 ? 1 : 0;
  }
  if (count == 0) return std::nullopt;
  const double unit = sum / count;
  const Moments found = of_column(fit.nodes, column);
  return Learnt{0.0, unit, unit * found.mean, unit * found.sd};
}

std::string how_far(double off, bool bound) {
  return fmt::format("{:.1f} standard deviations {} than everything else says{}", std::fabs(off),
                     off > 0.0 ? "better" : "worse", bound ? ", though it is only a lower bound" : "");
}

void report_readings(FitReport& report, const EventRecord& record, const GrowthFit& fit) {
  std::vector<double> conversion;
  std::vector<double> setting;
  bool other_distances = false;
  for (std::size_t i = 0; i < record.readings.size(); ++i) {
    const Evidence& one = record.readings[i];
    const GrowthRow& row = record.task.rows[i];
    (one.lower_bound ? report.bounds : report.readings) += 1;
    conversion.push_back(row.conversion);
    setting.push_back(row.setting);
    other_distances = other_distances || one.log_ratio != 0.0;
    (one.id.empty() ? report.share_results : report.share_log) += fit.pull[i];
    if (!fit.flagged[i]) continue;
    const Direction direction = record.event->direction;
    report.flagged.push_back({one.id, one.date, result_of(one.v, direction),
                              result_of(fit.expected[i] - one.loss, direction),
                              how_far(fit.off[i], one.lower_bound)});
  }
  report.conversion = learnt_bias(fit, kConversion, conversion);
  report.setting = learnt_bias(fit, kSetting, setting);
  if (other_distances) {
    const Moments found = of_column(fit.nodes, kExponent);
    report.exponent = Learnt{kPublishedExponent, kExponentSd, kPublishedExponent + kExponentSd * found.mean,
                             kExponentSd * found.sd};
  }
}

// Rows against the others may pull a little backwards; what is left is shared.
void close_shares(FitReport& report) {
  double prior = std::max(0.0, 1.0 - report.share_log - report.share_results);
  report.share_log = std::max(0.0, report.share_log);
  report.share_results = std::max(0.0, report.share_results);
  const double sum = report.share_log + report.share_results + prior;
  report.share_log /= sum;
  report.share_results /= sum;
  report.share_prior = 1.0 - report.share_log - report.share_results;
}

FitReport report_of(const EventState& state, const EventRecord& record, const GrowthFit& fit) {
  FitReport report;
  report.event = state.event->id;
  report.measured = state.measured;
  report.s = fit.s_now;
  report.lost = state.lost;
  double variance = 0.0;
  for (const auto& node : state.nodes)
    variance += node.weight * (node.var_v0 + numeric::squared(node.v0 - state.v0));
  const double sd = std::sqrt(variance);
  const Direction direction = state.event->direction;
  report.now_result = result_of(state.v0, direction);
  report.now_low80 = result_of(state.v0 - numeric::kZ80 * sd, direction);
  report.now_high80 = result_of(state.v0 + numeric::kZ80 * sd, direction);
  const Moments log_k =
      over_nodes(fit.nodes, [](const GrowthNode& node) { return std::pair(numeric::log(node.k), 0.0); });
  report.rate = {state.model->k_per_week, state.model->k_log_sd, numeric::exp(log_k.mean), log_k.sd};
  const Moments h = of_column(fit.nodes, kHeadroom);
  report.headroom = {record.task.h, record.task.h_sd, h.mean, h.sd};
  const double assumed = record.task.h * state.model->k_per_week;
  const Moments speed = over_nodes(fit.nodes, [assumed](const GrowthNode& node) {
    const double share = node.k / assumed;
    return std::pair(share * node.fit.estimate[kHeadroom], share * share * node.fit.covariance[kOfHeadroom]);
  });
  report.speed_ratio = speed.mean;
  report.speed_ratio_sd = speed.sd;
  report_readings(report, record, fit);
  close_shares(report);
  return report;
}

// From level and headroom where the record begins to today's: v0 + h G - L and h e^(-kS), G = 1 - e^(-kS).
EventState::Node rebased(const GrowthNode& node, double s, double loss) {
  const double g = growth_share(node.k, s);
  const double left = 1.0 - g;
  const auto& x = node.fit.estimate;
  const auto& c = node.fit.covariance;
  const double var_v0 = c[0];
  const double cov = c[1];
  const double var_h = c[kOfHeadroom];
  EventState::Node out;
  out.k = node.k;
  out.weight = node.weight;
  out.v0 = x[kLevel] + g * x[kHeadroom] - loss;
  out.h = left * std::max(0.0, x[kHeadroom]);
  out.var_v0 = var_v0 + 2.0 * g * cov + g * g * var_h;
  out.cov = left * (cov + g * var_h);
  out.var_h = left * left * var_h;
  return out;
}

// The larger of what was usual before the record and what was done lately: who trains more now has more to
// keep up.
TrainingNow habit(const TrainingNow& usual, const std::vector<DayDone>& days) {
  if (!usual.minutes || days.size() < static_cast<std::size_t>(kHabitDays)) return usual;
  double minutes = 0.0;
  for (auto day = days.end() - kHabitDays; day != days.end(); ++day) minutes += day->minutes;
  TrainingNow out = usual;
  out.minutes = std::max(*usual.minutes, static_cast<int>(minutes * kDaysAWeek / kHabitDays));
  return out;
}

}  // namespace

Fit fit_history(const Candidate& candidate, const Standard& standard, const Model& model, Date as_of,
                const History& history) {
  Fit out;
  if (history.empty()) {
    out.states = fit_progress(candidate, standard, model, as_of);
    return out;
  }
  const TrainingNow& usual = candidate.now;
  const std::vector<DayDone> days = days_done(history, model, as_of);
  for (const Event& event : standard.events) {
    EventState state = unfitted(event, candidate, standard, model);
    EventRecord record = record_of(event, candidate, standard, model, as_of, history, days);
    const double s_now = record.dose.s_on(as_of);
    state.lost = record.dose.loss_on(as_of);
    state.gap_days = record.dose.gap_days();
    state.measured = std::any_of(record.readings.begin(), record.readings.end(),
                                 [](const Evidence& one) { return !one.lower_bound; });
    state.dose = personal_dose(*state.model, habit(usual, days));
    const GrowthFit fit = fit_growth(record.task, s_now);
    for (std::size_t i = 0; i < state.nodes.size(); ++i) {
      state.nodes[i] = rebased(fit.nodes[i], s_now, state.lost);
      state.v0 += state.nodes[i].weight * state.nodes[i].v0;
    }
    state.var_a_week = strays_a_week(model, record.task.h);
    state.var_ahead = state.var_a_week * weeks_until_test(candidate, as_of);
    out.reports.push_back(report_of(state, record, fit));
    out.states.push_back(state);
  }
  return out;
}

std::vector<EventState> fit_progress(const Candidate& candidate, const Standard& standard, const Model& model,
                                     Date as_of, const History& history) {
  return fit_history(candidate, standard, model, as_of, history).states;
}

}  // namespace backplan

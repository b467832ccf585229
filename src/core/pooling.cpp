#include "backplan/pooling.hpp"

#include <algorithm>
#include <cmath>

#include "backplan/numeric.hpp"
#include "core/linear_algebra.hpp"

namespace backplan {
namespace {

// Judgement: how far a squad as a whole may differ from the defaults (programme, climate, trainer), and how
// far its people differ from one another beyond what the fit of each says; in logarithms.
constexpr double kSquadSd = 0.25, kPersonSd = 0.30;
constexpr double kTells = 0.98;  // a spread at least so much smaller than its prior says something

struct Told {
  double shift = 0.0, sd = 0.0;
};

struct Spread {
  double mean = 0.0, sd = 0.0;
};

// A normal spread without its part under nought, as headroom is: mean and deviation of what is left.
Spread above_nought(double mean, double sd) {
  const double low = -mean / sd;
  const double hazard = numeric::normal_pdf(low) / (1.0 - numeric::normal_cdf(low));
  return {mean + sd * hazard, sd * std::sqrt(1.0 - hazard * (hazard - low))};
}

// What a log alone says of a figure: the found value with its prior taken out again (precisions subtract).
bool told_by(const Spread& prior, const Spread& found, Told& told) {
  if (!(prior.sd > 0.0) || !(found.sd > 0.0) || found.sd >= kTells * prior.sd) return false;
  const double precision = 1.0 / (found.sd * found.sd) - 1.0 / (prior.sd * prior.sd);
  told.shift = (found.mean - prior.mean) / (found.sd * found.sd) / precision;
  told.sd = std::sqrt(1.0 / precision);
  return true;
}

// In shares of what was assumed, which near nought are differences of logarithms.
bool told_of_headroom(const Learnt& learnt, Told& told) {
  if (!(learnt.assumed > 0.0) || !(learnt.assumed_sd > 0.0)) return false;
  const Spread prior = above_nought(1.0, learnt.assumed_sd / learnt.assumed);
  return told_by(prior, {learnt.found / learnt.assumed, learnt.found_sd / learnt.assumed}, told);
}

bool told_of_rate(const Learnt& learnt, Told& told) {
  if (!(learnt.assumed > 0.0) || !(learnt.found > 0.0)) return false;
  return told_by({0.0, learnt.assumed_sd}, {numeric::log(learnt.found / learnt.assumed), learnt.found_sd},
                 told);
}

// One common shift by least squares: a row for each log, and a prior row that holds it at nought.
Told common_shift(const std::vector<Told>& told) {
  WhitenedRows rows;
  rows.columns = 1;
  rows.design.push_back(1.0 / kSquadSd);
  rows.target.push_back(0.0);
  for (const Told& one : told) {
    const double sd = std::sqrt(one.sd * one.sd + kPersonSd * kPersonSd);
    rows.design.push_back(1.0 / sd);
    rows.target.push_back(one.shift / sd);
  }
  const LinearFit fit = fit_rows(rows);
  return {fit.estimate[0], std::sqrt(fit.covariance[0])};
}

// In the order of the standard, each once: several events of a standard may be of one kind.
std::vector<std::string> model_events_of(const std::vector<Fit>& fits) {
  std::vector<std::string> out;
  for (const Fit& fit : fits) {
    for (const EventState& state : fit.states) {
      if (std::count(out.begin(), out.end(), state.model->id) == 0) out.push_back(state.model->id);
    }
  }
  return out;
}

// Several readings of one person as one: weighted by their precisions.
void add_joined(const std::vector<Told>& own, std::vector<Told>& all) {
  if (own.empty()) return;
  double precision = 0.0;
  double sum = 0.0;
  for (const Told& one : own) {
    precision += 1.0 / (one.sd * one.sd);
    sum += one.shift / (one.sd * one.sd);
  }
  all.push_back(own.size() == 1 ? own.front() : Told{sum / precision, std::sqrt(1.0 / precision)});
}

// What one person's log tells of this kind of event, from all events of the standard that are of it.
void add_told(const Fit& fit, const std::string& event, std::vector<Told>& headrooms,
              std::vector<Told>& rates) {
  std::vector<Told> own_headrooms;
  std::vector<Told> own_rates;
  for (std::size_t e = 0; e < fit.reports.size(); ++e) {
    if (fit.states[e].model->id != event) continue;
    Told told;
    if (told_of_headroom(fit.reports[e].headroom, told)) own_headrooms.push_back(told);
    if (told_of_rate(fit.reports[e].rate, told)) own_rates.push_back(told);
  }
  add_joined(own_headrooms, headrooms);
  add_joined(own_rates, rates);
}

}  // namespace

std::vector<PooledEvent> pool(const std::vector<Fit>& fits, int without) {
  std::vector<PooledEvent> out;
  for (const std::string& event : model_events_of(fits)) {
    PooledEvent pooled;
    pooled.event = event;
    std::vector<Told> headrooms;
    std::vector<Told> rates;
    for (std::size_t i = 0; i < fits.size(); ++i) {
      if (static_cast<int>(i) == without) continue;
      const std::size_t before = headrooms.size() + rates.size();
      add_told(fits[i], event, headrooms, rates);
      if (headrooms.size() + rates.size() > before) ++pooled.people;
    }
    if (pooled.people == 0) continue;
    const Told headroom = common_shift(headrooms);
    const Told rate = common_shift(rates);
    pooled.headroom_shift = headroom.shift;
    pooled.headroom_sd = headroom.sd;
    pooled.rate_shift = rate.shift;
    pooled.rate_sd = rate.sd;
    out.push_back(pooled);
  }
  return out;
}

Model moved(const Model& model, const std::vector<PooledEvent>& pooled) {
  Model out = model;
  for (const PooledEvent& one : pooled) {
    const auto found = out.events.find(one.event);
    if (found == out.events.end()) continue;
    found->second.k_per_week *= numeric::exp(one.rate_shift);
    found->second.headroom_factor *= numeric::exp(one.headroom_shift);
  }
  return out;
}

}  // namespace backplan

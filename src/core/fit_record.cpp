#include "core/fit_record.hpp"

#include <algorithm>
#include <cmath>

#include "backplan/numeric.hpp"
#include "backplan/units.hpp"
#include "core/history_evidence.hpp"
#include "core/progress_prior.hpp"

namespace backplan {
namespace {

// Where nothing is known from before the record, its first two weeks tell the level it starts from.
constexpr int kFirstEvidenceDays = 14;
// Half of a bound's own spread comes back in each of the person's bounds (judgement): the same set every week
// proves little more than once.
constexpr double kSharedOfABound = 0.5;

// Of the drift of a level that nobody watches (judgement).
constexpr double kWatchedShare = 0.5;
// Of the headroom: responses have other shapes than the model's, and are off by more where there is more to
// gain. The least, in steps of 0.02, that keeps three in four of two other shapes inside the
// forecast (tests/property/coverage_test.cpp).
constexpr double kShapeShare = 0.04;

// The level straying from `date` to today: as without a journal until the record begins, less on record.
double strayed(Date date, Date as_of, const std::optional<Date>& begins, double unwatched, double watched) {
  const Date recorded = std::clamp(begins.value_or(as_of), std::min(date, as_of), as_of);
  const double before = std::max<double>(0.0, static_cast<double>((recorded - date).count())) / kDaysAWeek;
  const double since =
      static_cast<double>((as_of - std::max(recorded, std::min(date, as_of))).count()) / kDaysAWeek;
  return unwatched * before + watched * since;
}

GrowthRow row_of(const Evidence& one) {
  GrowthRow row;
  row.y = one.v + one.loss;
  row.s = one.dose;
  row.bound = one.lower_bound;
  row.setting = one.setting_sd;
  row.conversion = one.conversion_sd;
  row.exponent = kExponentSd * one.log_ratio;
  row.variance = numeric::squared(one.sd) - numeric::squared(row.setting) - numeric::squared(row.conversion) -
                 numeric::squared(row.exponent);
  if (one.lower_bound && row.conversion == 0.0) {
    row.setting = std::sqrt(numeric::squared(row.setting) + kSharedOfABound * row.variance);
    row.variance *= 1.0 - kSharedOfABound;
  }
  return row;
}

// The level that the headroom is measured from: the weighted mean of the first evidence, bounds only where
// there is nothing else. None without any.
std::optional<double> first_level(const std::vector<Evidence>& readings, const std::optional<Date>& begins) {
  for (const bool bounds : {false, true}) {
    double sum = 0.0;
    double weights = 0.0;
    Date until = begins.value_or(Date::max());
    const auto counts = [&](const Evidence& one) { return one.lower_bound == bounds; };
    const auto first = std::find_if(readings.begin(), readings.end(), counts);
    if (first == readings.end()) continue;
    if (first->date > until) until = first->date + Days(kFirstEvidenceDays);
    for (const Evidence& one : readings) {
      if (!counts(one) || one.date > until) continue;
      sum += one.v / numeric::squared(one.sd);
      weights += 1.0 / numeric::squared(one.sd);
    }
    return sum / weights;
  }
  return std::nullopt;
}

}  // namespace

double strays_a_week(const Model& model, double h) {
  return numeric::squared(kWatchedShare * model.drift_per_sqrt_week) + numeric::squared(kShapeShare * h);
}

EventRecord record_of(const Event& event, const Candidate& candidate, const Standard& standard,
                      const Model& model, Date as_of, const History& history,
                      const std::vector<DayDone>& days) {
  const EventModel& event_model = *model.find_event(event.model_event);
  EventRecord out;
  out.event = &event;
  const TrainingNow& usual = candidate.now;
  if (history.begins) {
    out.dose = DoseHistory(days, *history.begins, model, event_model, personal_dose(event_model, usual));
  }
  out.readings = readings_of(candidate.results, history.entries, event, standard, model, as_of);
  mind_clearance(out.readings, candidate.medical, model);
  const Prior prior = prior_of(event, candidate, standard, model, first_level(out.readings, history.begins));
  const double watched = strays_a_week(model, prior.h);
  for (Evidence& one : out.readings) {
    one.dose = out.dose.s_on(one.date);
    one.loss = out.dose.loss_on(one.date);
    GrowthRow row = row_of(one);
    row.stray =
        strayed(one.date, as_of, history.begins, numeric::squared(model.drift_per_sqrt_week), watched) +
        one.break_variance;
    out.task.rows.push_back(row);
  }
  GrowthRow limit;  // h >= 0
  limit.headroom = true;
  limit.bound = true;
  out.task.rows.push_back(limit);
  out.task.h = prior.h;
  out.task.h_sd = prior.h_sd;
  out.task.log_k = numeric::log(event_model.k_per_week);
  out.task.log_k_sd = event_model.k_log_sd;
  if (std::all_of(out.readings.begin(), out.readings.end(),
                  [](const Evidence& e) { return e.lower_bound; })) {
    out.task.v0 = prior.v0;
    out.task.v0_sd = prior.v0_sd;
  }
  return out;
}

}  // namespace backplan

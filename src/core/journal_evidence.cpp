// One entry of a journal read as evidence of an event. docs/mathematics.md, "Evidence".
#include <algorithm>
#include <cmath>
#include <optional>

#include "backplan/evidence.hpp"
#include "backplan/numeric.hpp"
#include "backplan/running.hpp"
#include "backplan/strength.hpp"

namespace backplan {
namespace {

// How many repetitions somebody can do at a load is their own (6 to 26 at 70 % among trained lifters: Zourdos
// 2021): half of the variance of a set read as a maximum comes back in each of their sets (judgement).
constexpr double kConversionShare = 0.5;
// Beyond four times or under a quarter of the distance a run is another kind of effort (judgement).
constexpr double kMostDistanceRatio = 4.0;
// Water, machine, wind, hills and load change a time over a distance and are not logged: so much more spread
// than a run has, in v; half of its variance is where the person always trains (judgement).
constexpr double kCourseSd = 0.03;
constexpr double kCourseShare = 0.5;
// A drill over this share of the event's distance, either way, is the event (judgement: paced steps).
constexpr double kSameDistance = 0.01;

// A result that somebody counted or timed alone, one event by itself, in training.
Evidence in_training(double result, const Event& event, const EventModel& model) {
  Evidence out;
  out.event = event.id;
  out.v = ability_of(result, event.direction);
  double bias_variance = 0.0;
  for (const Setting setting : {Setting::single, Setting::self}) {
    const auto bias = model.bias.find(setting);
    if (bias == model.bias.end()) continue;
    out.v += bias->second.mean;
    bias_variance += numeric::squared(bias->second.sd);
  }
  out.setting_sd = std::sqrt(bias_variance);
  out.sd =
      std::sqrt(bias_variance + numeric::squared(std::max(noise_of(model, result), model.first_noise_sd)));
  return out;
}

std::optional<double> in_unit(Pounds load, Unit unit) {
  if (unit == Unit::pound) return load.value();
  if (unit == Unit::kilogram) return to_kilograms(load).value();
  return std::nullopt;
}

std::optional<double> in_unit(Metres distance, Unit unit) {
  constexpr double kCentimetres = 100.0;
  constexpr double kMetresPerKilometre = 1000.0;
  if (unit == Unit::metre) return distance.value();
  if (unit == Unit::centimetre) return distance.value() * kCentimetres;
  if (unit == Unit::kilometre) return distance.value() / kMetresPerKilometre;
  return std::nullopt;
}

// The set that promises most; of equal ones the one that is no bound.
std::optional<Evidence> read_lift(const WorkDone& work, const Event& event) {
  std::optional<SetReading> best;
  for (const LoggedSet& set : work.sets) {
    if (!set.load) continue;
    const auto reading = read_set({set.repetitions, set.load->value, set.in_reserve});
    if (!reading) continue;
    const bool better = !best || reading->three_rep_max > best->three_rep_max ||
                        (reading->three_rep_max == best->three_rep_max && best->lower_bound);
    if (better) best = reading;
  }
  if (!best) return std::nullopt;
  const auto result = in_unit(best->three_rep_max, event.unit);
  if (!result) return std::nullopt;
  Evidence out;
  out.event = event.id;
  out.v = ability_of(*result, event.direction);
  out.sd = best->sd;
  out.conversion_sd = std::sqrt(kConversionShare) * best->sd;
  out.lower_bound = best->lower_bound;
  return out;
}

// The largest set without a load: a result where it was all out, else a bound.
std::optional<Evidence> read_repetitions(const WorkDone& work, const Event& event, const EventModel& model) {
  if (event.unit != Unit::repetition) return std::nullopt;
  int most = 0;
  for (const LoggedSet& set : work.sets) {
    if (!set.load) most = std::max(most, set.repetitions);
  }
  if (most == 0) return std::nullopt;
  Evidence out = in_training(most, event, model);
  out.lower_bound = !work.hard;
  return out;
}

// A hold or a course in its full length.
std::optional<Evidence> read_timed(const WorkDone& work, const Event& event, const EventModel& model) {
  if (!work.hard || !work.time || work.distance || event.unit != Unit::second) return std::nullopt;
  return in_training(work.time->value.value(), event, model);
}

std::optional<Evidence> read_throw(const WorkDone& work, const Event& event, const EventModel& model) {
  if (!work.hard || !work.distance) return std::nullopt;
  const auto result = in_unit(work.distance->value, event.unit);
  if (!result || !(*result > 0.0)) return std::nullopt;
  return in_training(*result, event, model);
}

std::optional<Evidence> read_run(const WorkDone& work, const Event& event, const EventModel& model) {
  if (!event.distance || event.unit != Unit::second || !work.distance || !work.time) return std::nullopt;
  const bool telling = work.hard || work.effort.value_or(0) >= kTellingEffort;
  const double ratio = *event.distance / work.distance->value;
  if (!telling || !(ratio <= kMostDistanceRatio && ratio >= 1.0 / kMostDistanceRatio)) return std::nullopt;
  const Seconds time = equivalent_time(work.time->value, work.distance->value, *event.distance);
  Evidence out = in_training(time.value(), event, model);
  out.log_ratio = numeric::log(ratio);
  out.sd = std::sqrt(numeric::squared(out.sd) + numeric::squared(kExponentSd * out.log_ratio));
  out.lower_bound = !work.hard;
  return out;
}

// A row, ride, swim, walk or loaded march: as a run, with more doubt. Riegel 1981 found powers near that of
// running for swimming, walking and cycling (from memory); rowers reckon five seconds a 500 m for each
// doubling, which at two minutes a 500 m is 1.06 too.
std::optional<Evidence> read_pieces(const WorkDone& work, const Event& event, const EventModel& model) {
  auto out = read_run(work, event, model);
  if (!out) return std::nullopt;
  out->sd = std::sqrt(numeric::squared(out->sd) + numeric::squared(kCourseSd));
  out->setting_sd = std::sqrt(numeric::squared(out->setting_sd) + kCourseShare * numeric::squared(kCourseSd));
  return out;
}

// The whole event once, all out; the parts that drills are made of say nothing.
std::optional<Evidence> read_drill(const WorkDone& work, const Event& event, const EventModel& model) {
  if (event.unit == Unit::repetition) return work.hard ? read_repetitions(work, event, model) : std::nullopt;
  if (event.unit != Unit::second) return read_throw(work, event, model);
  if (!event.distance) return read_timed(work, event, model);
  if (!work.hard || !work.time || !work.distance) return std::nullopt;
  if (std::fabs(work.distance->value / *event.distance - 1.0) > kSameDistance) return std::nullopt;
  return in_training(work.time->value.value(), event, model);
}

bool is_possible(const Evidence& evidence, const Event& event) {
  if (!(event.most_plausible > event.least_plausible)) return true;
  const double result = result_of(evidence.v, event.direction);
  return result >= event.least_plausible && result <= event.most_plausible;
}

std::optional<Evidence> read_work(const WorkDone& work, const Standard& standard, const Model& model) {
  const WorkKind* kind = model.find_work(work.work);
  if (kind == nullptr) return std::nullopt;  // fixed work says nothing
  const Event* event = event_read_from(*kind, standard);
  const EventModel* event_model = model.find_event(kind->trains);
  if (event == nullptr || event_model == nullptr) return std::nullopt;
  std::optional<Evidence> out;
  if (kind->family == "lift") out = read_lift(work, *event);
  if (kind->family == "press") out = read_repetitions(work, *event, *event_model);
  if (kind->family == "hold" || kind->family == "shuttle") out = read_timed(work, *event, *event_model);
  if (kind->family == "throw") out = read_throw(work, *event, *event_model);
  if (kind->family == "pieces") out = read_pieces(work, *event, *event_model);
  if (kind->family == "drill") out = read_drill(work, *event, *event_model);
  if (kind->running) out = read_run(work, *event, *event_model);
  if (out && !is_possible(*out, *event)) return std::nullopt;
  return out;
}

}  // namespace

const Event* event_read_from(const WorkKind& kind, const Standard& standard) {
  const auto is_trained = [&kind](const Event& event) { return event.model_event == kind.trains; };
  const auto end = standard.events.end();
  const auto found = std::find_if(standard.events.begin(), end, is_trained);
  if (found == end) return nullptr;
  return kind.family == "drill" && std::any_of(found + 1, end, is_trained) ? nullptr : &*found;
}

std::optional<Evidence> evidence_of(const Done& done, const Standard& standard, const Model& model) {
  std::optional<Evidence> out;
  if (const auto* work = std::get_if<WorkDone>(&done.what)) out = read_work(*work, standard, model);
  if (std::holds_alternative<ResultDone>(done.what)) {
    const auto all = evidence_of(results_in({done}), standard, model);
    if (!all.empty()) out = all.front();
  }
  if (out) out->date = done.date;
  return out;
}

}  // namespace backplan

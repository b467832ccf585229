#include "core/proven.hpp"

#include <algorithm>
#include <optional>

#include "backplan/evidence.hpp"

namespace backplan {
namespace {

constexpr int kLatelyDays = 84;  // twelve weeks (judgement)

struct Shown {
  Date date;
  double result = 0.0;
};
using ByEvent = std::map<std::string, Shown>;  // by model event

// With no repetition in reserve and all out: what the session itself was.
std::optional<double> shown_by(const WorkDone& work, Date date, const Event& event, const WorkKind& kind,
                               const Standard& standard, const Model& model) {
  if (kind.running || kind.family == "pieces") {
    if (!event.distance || !work.distance || !work.time || work.distance->value < *event.distance)
      return std::nullopt;
    return work.time->value.value() * event.distance->value() / work.distance->value.value();
  }
  if (kind.family == "press") {
    int most = 0;
    for (const LoggedSet& set : work.sets) most = std::max(most, set.load ? 0 : set.repetitions);
    return most > 0 ? std::optional<double>(most) : std::nullopt;
  }
  if (kind.family == "hold" || kind.family == "shuttle") {
    // A course proves its time where it was the whole one; a hold is what it is.
    if (!work.time || work.distance || (kind.family == "shuttle" && !work.hard)) return std::nullopt;
    return work.time->value.value();
  }
  WorkDone bare = work;
  for (LoggedSet& set : bare.sets) set.in_reserve = 0.0;
  const auto reading = evidence_of(Done{{}, date, bare, {}, 0}, standard, model);
  if (!reading) return std::nullopt;
  return result_of(reading->v, event.direction);
}

bool better(double a, double b, Direction direction) {
  return direction == Direction::more_is_better ? a > b : a < b;
}

ByEvent latest_results(const Candidate& candidate, const Standard& standard, const History& history,
                       Date as_of) {
  ByEvent out;
  for (const DatedResult& one : results_so_far(candidate, history, as_of)) {
    const Event* event = standard.find_event(one.event);
    if (event == nullptr || standard.first_of_model(event->model_event) != event) continue;
    if (one.setting == Setting::estimate) continue;
    out[event->model_event] = {one.date, one.value};
  }
  return out;
}

}  // namespace

std::map<std::string, double> proven_results(const Candidate& candidate, const Standard& standard,
                                             const Model& model, const History& history, Date as_of) {
  ByEvent shown = latest_results(candidate, standard, history, as_of);
  const ByEvent results = shown;
  for (const Done& done : history.entries) {
    const auto* work = std::get_if<WorkDone>(&done.what);
    const WorkKind* kind = work != nullptr ? model.find_work(work->work) : nullptr;
    if (kind == nullptr || done.date > as_of || done.date < as_of - Days(kLatelyDays)) continue;
    if (const Event* trained = standard.first_of_model(kind->trains)) {
      const Event& event = *trained;
      const auto result = results.find(event.model_event);
      if (result != results.end() && done.date < result->second.date) continue;
      const auto figure = shown_by(*work, done.date, event, *kind, standard, model);
      if (!figure) continue;
      const auto [best, first] = shown.try_emplace(event.model_event, Shown{done.date, *figure});
      if (!first && better(*figure, best->second.result, event.direction))
        best->second = {done.date, *figure};
    }
  }
  std::map<std::string, double> out;
  for (const auto& [event, one] : shown) out[event] = one.result;
  return out;
}

}  // namespace backplan

#include "backplan/evidence.hpp"

#include <algorithm>
#include <cmath>

#include "backplan/numeric.hpp"
#include "core/history_evidence.hpp"

namespace backplan {

Evidence read_result(const DatedResult& result, const Event& event, const EventModel& model, double level) {
  const bool attempt_is_noisy = result.first || result.setting == Setting::self;
  double sd = noise_of(model, level);
  if (attempt_is_noisy) sd = std::max(sd, model.first_noise_sd);
  Bias bias;
  if (const auto found = model.bias.find(result.setting); found != model.bias.end()) bias = found->second;
  Evidence out;
  out.event = result.event;
  out.date = result.date;
  // A result of nothing (no repetition, no lift) has no logarithm: it counts as half a unit.
  out.v = ability_of(std::max(result.value, 0.5 * event.resolution), event.direction) + bias.mean +
          (result.first ? model.first_reads_low : 0.0);
  out.sd = std::sqrt(sd * sd + bias.sd * bias.sd);
  // A guess is off anew each time; how somebody counts alone is the same each time.
  if (result.setting != Setting::estimate) out.setting_sd = bias.sd;
  return out;
}

double ability_of(double result, Direction direction) {
  const double v = numeric::log(result);
  return direction == Direction::more_is_better ? v : -v;
}

double result_of(double ability, Direction direction) {
  return numeric::exp(direction == Direction::more_is_better ? ability : -ability);
}

double noise_of(const EventModel& model, double result) {
  return std::max(model.noise_sd, model.noise_least_units / std::max(result, 1.0));
}

std::vector<Evidence> evidence_of(const std::vector<DatedResult>& results, const Standard& standard,
                                  const Model& model) {
  std::vector<Evidence> out;
  for (const Event& event : standard.events) {
    const EventModel* event_model = model.find_event(event.model_event);
    if (event_model == nullptr) continue;
    double level = 0.0;
    for (const DatedResult& result : results) {
      if (result.event == event.id) level = std::max(level, result.value);
    }
    std::vector<Evidence> of_event;
    for (const DatedResult& result : results) {
      if (result.event != event.id) continue;
      of_event.push_back(read_result(result, event, *event_model, level));
    }
    std::stable_sort(of_event.begin(), of_event.end(), [](const Evidence& a, const Evidence& b) {
      if (a.date != b.date) return a.date < b.date;
      return a.v != b.v ? a.v < b.v : a.sd < b.sd;
    });
    out.insert(out.end(), of_event.begin(), of_event.end());
  }
  return out;
}

}  // namespace backplan

// What the fit of one event is made from: its readings, its dose and its priors.
#pragma once

#include <vector>

#include "backplan/history.hpp"
#include "backplan/progress.hpp"
#include "core/dose_history.hpp"
#include "core/growth_fit.hpp"

namespace backplan {

// Variance by which a level whose work is on record strays from the model in a week: what the model of growth
// leaves out. `h`: the headroom that the fit starts from. docs/mathematics.md, "Straying".
[[nodiscard]] double strays_a_week(const Model& model, double h);

struct EventRecord {
  const Event* event = nullptr;
  std::vector<Evidence> readings;  // with dose and loss filled in
  DoseHistory dose;
  GrowthTask task;  // a row a reading, in their order, then the limit h >= 0
};

[[nodiscard]] EventRecord record_of(const Event& event, const Candidate& candidate, const Standard& standard,
                                    const Model& model, Date as_of, const History& history,
                                    const std::vector<DayDone>& days);

}  // namespace backplan

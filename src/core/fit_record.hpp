// What the fit of one event is made from: its readings, its dose and its priors.
#pragma once

#include <vector>

#include "backplan/history.hpp"
#include "backplan/progress.hpp"
#include "core/dose_history.hpp"
#include "core/growth_fit.hpp"

namespace backplan {

// A level whose work is on record strays half as far in a week as one that nobody watched: what the model of
// growth leaves out (judgement; tests/property/coverage_test.cpp shows what it is worth).
inline constexpr double kLoggedDriftShare = 0.5;

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

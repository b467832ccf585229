// Where the fit starts from: the priors of level and headroom, the personal keep dose, the nodes of the rate.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "backplan/progress.hpp"

namespace backplan {

// Gauss-Hermite nodes and weights for a standard normal variable (Abramowitz & Stegun table 25.10,
// scaled by sqrt 2): exact for polynomials up to degree nine.
inline constexpr std::array<double, kRateNodes> kNormalNodes{-2.856970013872806, -1.355626179974266, 0.0,
                                                             1.355626179974266, 2.856970013872806};
inline constexpr std::array<double, kRateNodes> kNormalWeights{
    0.011257411327721, 0.222075922005613, 0.533333333333333, 0.222075922005613, 0.011257411327721};

struct Prior {
  double h = 0.0, h_sd = 0.0;
  double v0 = 0.0, v0_sd = 0.0;  // used only without evidence
};

// The event, its model and its scale for this candidate; nothing fitted yet.
[[nodiscard]] EventState unfitted(const Event& event, const Candidate& candidate, const Standard& standard,
                                  const Model& model);
// `v_first`: the level from which the headroom is measured; none: the middle of the band.
[[nodiscard]] Prior prior_of(const Event& event, const Candidate& candidate, const Standard& standard,
                             const Model& model, std::optional<double> v_first);
// From `as_of`; never negative.
[[nodiscard]] double weeks_until_test(const Candidate& candidate, Date as_of);
// The same states for another test date, by the scale of that day: what was fitted stays.
[[nodiscard]] std::vector<EventState> restated(std::vector<EventState> states, const Candidate& candidate,
                                               const Standard& standard, Date as_of);
[[nodiscard]] Dose personal_dose(const EventModel& model, const TrainingNow& now);

}  // namespace backplan

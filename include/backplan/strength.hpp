// Repetitions and maxima of a lift. FM 7-22 (October 2020) para 4-25: 1RM = w (1 + 0.033 r).
// docs/mathematics.md, "Repetition maxima".
#pragma once

#include <optional>

#include "backplan/units.hpp"

namespace backplan {

// More repetitions to failure say too little of the maximum (Reynolds 2006, validity of the linear forms).
inline constexpr double kMostRepetitions = 10.0;

struct LiftSet {
  int repetitions = 0;
  Pounds load;
  std::optional<double> in_reserve;  // repetitions that were left
};

// What one set says of the three-repetition maximum; none when the set is unusable (more than
// kMostRepetitions to failure). `lower_bound`: the reserve is unknown or over three, so the true value
// may be higher.
struct SetReading {
  Pounds one_rep_max;
  Pounds three_rep_max;
  double sd = 0.0;  // of ln(maximum)
  bool lower_bound = false;
};

[[nodiscard]] Pounds one_rep_max(Pounds load, double repetitions_to_failure);
[[nodiscard]] Pounds three_rep_max(Pounds one_rep_max);
[[nodiscard]] Pounds one_rep_max_from_three(Pounds three_rep_max);
[[nodiscard]] std::optional<SetReading> read_set(const LiftSet& set);

}  // namespace backplan

// One invented person from the first morning to the test day under one way of training.
#pragma once

#include <functional>

#include "lab/policies.hpp"
#include "lab/trainee.hpp"

namespace backplan::lab {

// How often the truth was in the interval that the fit gave.
struct Coverage {
  int cases = 0, inside = 0;
  void count(bool is_inside);
  Coverage& operator+=(const Coverage& other);
};

struct Outcome {
  double start = 0.0;   // points, as expected from the true ability on the first day
  double total = 0.0;   // the same on the test day; below the lowest row by the scale's mean slope
  double p_pass = 0.0;  // over the noise of the test day
  double p_target = 0.0;
  double minutes = 0.0;    // done, a week
  int broken_rules = 0;    // that the independent checker found in any plan of any week
  Coverage now, test_day;  // of ability, where the plan was made anew from the journal
  [[nodiscard]] double gained() const { return total - start; }
};

// `intervals`: hold the fit against the truth every week (takes a fit more).
[[nodiscard]] Outcome run_season(const Person& person, Policy& policy, const Knowledge& knowledge,
                                 bool intervals);

}  // namespace backplan::lab

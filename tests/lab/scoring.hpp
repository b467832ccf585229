// What a true ability is worth on the test day.
#pragma once

#include "lab/person.hpp"

namespace backplan::lab {

struct DayScore {
  double expected = 0.0;  // points of all events
  double p_pass = 0.0, p_target = 0.0;
};

// Over the noise of the day, which the same person meets in the same way whatever the training was.
[[nodiscard]] DayScore score_day(const Person& person, const Knowledge& knowledge);

}  // namespace backplan::lab

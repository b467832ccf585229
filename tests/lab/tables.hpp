// What a cohort showed, as text.
#pragma once

#include <string>

#include "lab/cohort.hpp"

namespace backplan::lab {

// By minutes over all families; by family; coverage; minutes for the same target; the goals.
[[nodiscard]] std::string summary(const Cohort& cohort);
// A line a family, number of minutes and way, for other programs: comma-separated.
[[nodiscard]] std::string cells(const Cohort& cohort);

}  // namespace backplan::lab

// One candidate's journal of two years with an entry a day.
#pragma once

#include "backplan/history.hpp"

namespace backplan::bench {

inline constexpr int kTwoYears = 730;  // days, and entries

[[nodiscard]] const History& two_years();

}  // namespace backplan::bench

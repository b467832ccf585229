// Which days a new plan changes, each with the reason that holds for it.
#pragma once

#include <vector>

#include "backplan/replan.hpp"

namespace backplan {

// Without training, of the planned ones of the last seven: a lost week, and the weeks ahead feel it.
inline constexpr int kLostDays = 3;

// The days from the new plan's first on that differ from the old plan. `found.seen`, `found.learnt` and
// `found.stops` are filled in.
[[nodiscard]] std::vector<SessionChange> changes_between(const Plan& old, const Plan& now,
                                                         const Replan& found, const Knowledge& knowledge,
                                                         const History& history);

}  // namespace backplan

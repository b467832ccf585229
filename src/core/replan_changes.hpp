// Which days a new plan changes, each with the reason that holds for it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/replan.hpp"

namespace backplan {

// The day of a plan; none without training, fixed work or a note.
[[nodiscard]] const PlannedDay* day_on(const Plan& plan, Date date);
// What a plan expected of an event by a day: the milestone of the last week that ended before it.
[[nodiscard]] std::optional<double> expected_on(const Plan& plan, const std::string& event, Date date);
[[nodiscard]] bool trained_on(const History& history, Date date);
[[nodiscard]] std::string date_words(Date date);  // 2027-01-12

// The days from the new plan's first on that differ from the old plan. `found.seen`, `found.learnt` and
// `found.stops` are filled in.
[[nodiscard]] std::vector<SessionChange> changes_between(const Plan& old, const Plan& now,
                                                         const Replan& found, const Knowledge& knowledge,
                                                         const History& history);

}  // namespace backplan

// Days and weeks of two plans side by side: what a day holds, and whether that is the same.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>

#include "backplan/history.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"

namespace backplan {

// The day of a plan; none without training, fixed work or a note.
[[nodiscard]] const PlannedDay* day_on(const Plan& plan, Date date);
[[nodiscard]] const PlannedWeek* week_of(const Plan& plan, Date date);
// What a plan expected of an event by a day: the milestone of the last week that ended before it.
[[nodiscard]] std::optional<double> expected_on(const Plan& plan, const std::string& event, Date date);
[[nodiscard]] bool trained_on(const History& history, Date date);

// The minutes of a day by work kind; of no day none.
using Minutes = std::map<std::string, int>;
[[nodiscard]] Minutes minutes_of(const PlannedDay* day);
// The same work in the same sizes; and with the same loads, paces and numbers.
[[nodiscard]] bool same_blocks(const PlannedDay* a, const PlannedDay* b);
[[nodiscard]] bool same_session(const PlannedDay* a, const PlannedDay* b);
// Sessions of a week by kind and size, from a day on.
[[nodiscard]] std::multiset<std::pair<std::string, BlockSize>> blocks_in(const PlannedWeek* week, Date from);

[[nodiscard]] std::string date_words(Date date);  // 2027-01-12
[[nodiscard]] std::string day_words(const PlannedDay* day,
                                    const Model& model);  // "deadlift day 45 min"; "rest"

}  // namespace backplan

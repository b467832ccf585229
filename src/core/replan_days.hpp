// Days and weeks of two plans side by side: what a day holds, and whether that is the same.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

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

// What a prescription tells to do, a part each: "5×5 at 190 lb", "rest 2.5 min". Without shares of a level
// and what stands in brackets, which move with the level alone.
[[nodiscard]] std::vector<std::string> deeds_in(const std::string& prescription);
// Of the same blocks with other loads, paces or numbers: "5×5 at 190 lb, was 5×5 at 180 lb"; else empty.
[[nodiscard]] std::string figures_words(const PlannedDay* before, const PlannedDay* after);

// Planned days of the seven before today without work or a result.
struct LostDays {
  int missed = 0;    // logged as missed
  int unlogged = 0;  // nothing logged
  [[nodiscard]] int all() const { return missed + unlogged; }
};
[[nodiscard]] LostDays lost_days(const History& history, const Plan& old, Date as_of);
// What follows from them; `unlogged_share`: how much of a day without an entry counts.
[[nodiscard]] std::string lost_words(const LostDays& lost, double unlogged_share);
[[nodiscard]] std::string day_words(const PlannedDay* day,
                                    const Model& model);  // "deadlift day 45 min"; "rest"

}  // namespace backplan

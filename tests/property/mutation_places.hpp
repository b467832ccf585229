// Places in a finished plan, chosen at random among those that fit.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "property/plan_mutations.hpp"
#include "support/plan_editor.hpp"

namespace backplan::testing {

[[nodiscard]] PlanEditor editor(Finished& f);
[[nodiscard]] const WorkKind& kind_of(const Finished& f, const Block& block);
[[nodiscard]] bool is_hard(const Finished& f, const Block& block);
[[nodiscard]] bool is_blocked(const Finished& f, Date date);
// The first work kind of a family ("lift", "intervals").
[[nodiscard]] const WorkKind* of_family(const Finished& f, const std::string& family);
[[nodiscard]] bool has_family(const Finished& f, const PlannedDay& day, const std::string& family);

struct BlockPlace {
  Date date;
  std::size_t number = 0;
};
// A block for which the test holds.
[[nodiscard]] std::optional<BlockPlace> any_block(
    Finished& f, const std::function<bool(const PlannedDay&, const Block&)>& fits);
[[nodiscard]] Block& block_at(Finished& f, const BlockPlace& place);
// A day with an entry for which the test holds.
[[nodiscard]] std::optional<Date> any_day(Finished& f, const std::function<bool(const PlannedDay&)>& fits);
// An open date of the plan, with or without an entry.
[[nodiscard]] std::optional<Date> any_date(Finished& f, const std::function<bool(Date)>& fits);
[[nodiscard]] PlannedWeek* any_week(Finished& f, const std::function<bool(const PlannedWeek&)>& fits);

// Gives the day so many minutes, so that only the wanted rule is broken.
void offer(Finished& f, Date date, int minutes);

}  // namespace backplan::testing

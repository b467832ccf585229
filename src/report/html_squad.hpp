// A squad's programme as a page: for the trainer's desk, the wall, the field.
#pragma once

#include <string>

#include "backplan/programme.hpp"
#include "report/html_page.hpp"
#include "report/names.hpp"
#include "report/squad_view.hpp"

namespace backplan::report {

struct SquadInput {
  const Programme& programme;
  Names names;
  Date today;
};

// The answer, who is at risk, the groups, the weeks; the mornings and the personal sheets of this week and
// the next.
[[nodiscard]] std::string html_squad(const SquadInput& input);
// Mornings and personal sheets of one week, to be printed.
[[nodiscard]] std::string html_squad_week(const SquadInput& input, int week);

// The parts.
[[nodiscard]] Markup mornings_markup(const SquadInput& input, const DaySpan& span);
[[nodiscard]] Markup cards_markup(const SquadInput& input, const DaySpan& span);

}  // namespace backplan::report

// A squad's programme for calendars and spreadsheets.
#pragma once

#include <string>
#include <vector>

#include "backplan/programme.hpp"
#include "io/ical.hpp"
#include "io/sheet.hpp"
#include "report/names.hpp"
#include "report/plan_exports.hpp"
#include "report/squad_view.hpp"

namespace backplan::report {

// A common morning is one event, the test another; mornings that an earlier revision had and this one has
// not are cancelled.
[[nodiscard]] io::CalendarFile squad_calendar(const Programme& programme, const Names& names,
                                              const CalendarWishes& wishes, const std::string& tool_version);
// The same for one person: the mornings with this person's part, and the short extras at home.
[[nodiscard]] io::CalendarFile person_calendar(const Programme& programme, const Person& person,
                                               const Names& names, const CalendarWishes& wishes,
                                               const std::string& tool_version);

// What everybody does, one row a person and station, in all the mornings and at home.
[[nodiscard]] io::Sheet squad_sheet(const Programme& programme, const Names& names);
// The mornings and the personal sheets of `span`, the risk list, the groups, everything.
[[nodiscard]] std::vector<io::Sheet> squad_sheets(const Programme& programme, const Names& names,
                                                  const DaySpan& span);

}  // namespace backplan::report

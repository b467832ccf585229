// A plan for calendars and spreadsheets.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/plan.hpp"
#include "io/ical.hpp"
#include "io/sheet.hpp"
#include "report/names.hpp"

namespace backplan::report {

struct CalendarWishes {
  std::optional<int> starts;  // minutes after midnight at which sessions begin; none: whole days
  bool alarms = false;
};

// A day of training is one event, the test another; days that an earlier revision had and this one has not
// are cancelled.
[[nodiscard]] io::CalendarFile plan_calendar(const Plan& plan, const Names& names,
                                             const CalendarWishes& wishes, const std::string& tool_version);

// The blocks, one a row.
[[nodiscard]] io::Sheet days_sheet(const Plan& plan, const Names& names);
// Days, weeks, and what each event must bring.
[[nodiscard]] std::vector<io::Sheet> plan_sheets(const Plan& plan, const Names& names);

}  // namespace backplan::report

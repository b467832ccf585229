// A plan for calendars and spreadsheets.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/plan.hpp"
#include "io/ical.hpp"
#include "io/sheet.hpp"
#include "report/names.hpp"
#include "report/show_text.hpp"

namespace backplan::report {

struct CalendarWishes {
  std::optional<int> starts;  // minutes after midnight at which sessions begin; none: whole days
  bool alarms = false;
};

// What the journal and the candidate say beside the plan: work that is off by now, and how often pain was
// logged and when last, so that a calendar takes a file with news for newer than the one before it.
struct PlanNews {
  OffByDay off;
  int pain_entries = 0;
  std::optional<Date> last_pain;
};
[[nodiscard]] PlanNews news_of(OffByDay off, const std::vector<Done>& entries);

// A day of training is one event, the test another; days that an earlier revision had and this one has not
// are cancelled. Work that is off says so.
[[nodiscard]] io::CalendarFile plan_calendar(const Plan& plan, const Names& names,
                                             const CalendarWishes& wishes, const std::string& tool_version,
                                             const PlanNews& news = {});

// What is to be done, one thing a row; work that is off says so in the place of its prescription.
[[nodiscard]] io::Sheet days_sheet(const Plan& plan, const Names& names, const OffByDay& off = {});
// Days, weeks, and what each event must bring.
[[nodiscard]] std::vector<io::Sheet> plan_sheets(const Plan& plan, const Names& names,
                                                 const OffByDay& off = {});

}  // namespace backplan::report

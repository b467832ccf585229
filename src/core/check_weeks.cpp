// How much hard work a week holds, how it is spaced, and the days of full rest.
#include <fmt/format.h>

#include <algorithm>

#include "backplan/standard.hpp"
#include "core/check_case.hpp"

namespace backplan::checking {
namespace {

// Fixed work may break a limit alone: only planned work that adds to it is a fault.
void check_hard_days(const Case& c, const WeekFacts& week, int limit, Findings& findings) {
  int hard = 0;
  int planned = 0;
  for (const DayFacts* day : week.days) {
    hard += day->hard() ? 1 : 0;
    planned += day->planned_hard() ? 1 : 0;
  }
  if (planned == 0 || hard <= limit) return;
  findings.add("hard-days", week.starts(),
               fmt::format("{} hard days in week {}, {} of them planned; at most {} at {} training", hard,
                           week.index, planned, limit, to_string(c.background)));
}

void check_hard_in_a_row(const Case& c, Findings& findings) {
  std::size_t first = 0;
  while (first < c.days.size()) {
    std::size_t end = first;
    bool planned = false;
    while (end < c.days.size() && c.days[end].hard()) planned = c.days[end++].planned_hard() || planned;
    const int length = static_cast<int>(end - first);
    if (planned && length > c.rules.hard_days_in_a_row) {
      findings.add("hard-days-in-a-row", c.days[first].date,
                   fmt::format("{} hard days in a row; at most {}", length, c.rules.hard_days_in_a_row));
    }
    first = end + 1;
  }
}

void check_intervals(const Case& c, const WeekFacts& week, Findings& findings) {
  int sessions = 0;
  for (const DayFacts* day : week.days) sessions += day->has_family("intervals") ? 1 : 0;
  const int most = c.rules.intervals_a_week.of(c.background);
  if (sessions <= most) return;
  findings.add("intervals-a-week", week.starts(),
               fmt::format("{} days of intervals in week {}; at most {}", sessions, week.index, most));
}

void check_deadlifts(const Case& c, const WeekFacts& week, Findings& findings) {
  int sessions = 0;
  for (const DayFacts* day : week.days) sessions += day->has_lift() ? 1 : 0;
  if (sessions <= c.rules.deadlifts_a_week) return;
  findings.add(
      "deadlifts-a-week", week.starts(),
      fmt::format("{} deadlift days in week {}; at most {}", sessions, week.index, c.rules.deadlifts_a_week));
}

void check_spacing(const Case& c, Findings& findings) {
  for (const DayFacts& day : c.days) {
    const DayFacts* next = c.day(day.date + Days{1});
    if (next != nullptr && day.has_family("intervals")) {
      if (next->has_family("intervals")) {
        findings.add("intervals-in-a-row", day.date, "intervals on two days in a row");
      }
      if (next->has_lift()) {
        findings.add("intervals-before-deadlift", day.date, "intervals on the day before a deadlift day");
      }
    }
    for (int later = 1; later < c.rules.days_between_deadlifts; ++later) {
      const DayFacts* other = c.day(day.date + Days{later});
      if (other == nullptr || !day.has_lift() || !other->has_lift()) continue;
      findings.add("deadlift-spacing", day.date,
                   fmt::format("deadlift days {} and {} are less than {} days apart", iso(day.date),
                               iso(other->date), c.rules.days_between_deadlifts));
    }
  }
}

// In a partial week as many training days as a full one allows.
void check_rest(const Case& c, const WeekFacts& week, Findings& findings) {
  const int most = 7 - c.rules.rest_days_a_week.of(c.background);
  int training = 0;
  int planned_alone = 0;
  for (const DayFacts* day : week.days) {
    training += day->planned() || day->fixed ? 1 : 0;
    planned_alone += day->planned() && !day->fixed ? 1 : 0;
  }
  if (training <= most || planned_alone == 0) return;
  findings.add("rest-days", week.starts(),
               fmt::format("{} training days in week {}; at most {}", training, week.index, most));
}

}  // namespace

void check_weeks(const Case& c, Findings& findings) {
  const int age = age_on(c.candidate.birth_date, c.candidate.test_date);
  const int limit = hard_day_limit(c.rules, c.background, age);
  for (const WeekFacts& week : c.weeks) {
    check_hard_days(c, week, limit, findings);
    check_intervals(c, week, findings);
    check_deadlifts(c, week, findings);
    check_rest(c, week, findings);
  }
  check_hard_in_a_row(c, findings);
  check_spacing(c, findings);
}

}  // namespace backplan::checking

// The shape of a plan: weeks and days in order and in place, sums that agree, texts that are there.
#include <fmt/format.h>

#include <algorithm>

#include "backplan/standard.hpp"
#include "core/check_case.hpp"

namespace backplan::checking {
namespace {

void check_week_frame(const Case& c, const WeekFacts& week, const PlannedWeek& planned, Findings& findings) {
  if (planned.starts != week.starts() || planned.days_long != static_cast<int>(week.days.size())) {
    findings.add(
        "form-weeks", week.starts(),
        fmt::format("week {} says it starts on {} and has {} days; it starts on {} and has {}", week.index,
                    iso(planned.starts), planned.days_long, iso(week.starts()), week.days.size()));
  }
  if (planned.minutes != week.minutes) {
    findings.add("form-minutes", week.starts(),
                 fmt::format("week {} says {} minutes; its sessions and home blocks sum to {}", week.index,
                             planned.minutes, week.minutes));
  }
  for (const PlannedDay& day : planned.days) {
    if (c.day(day.date) == nullptr || c.week_index(day.date) != week.index) {
      findings.add("form-days", day.date,
                   fmt::format("{} is not a day of week {}", iso(day.date), week.index));
    }
  }
}

void check_weeks_in_order(const Case& c, Findings& findings) {
  const std::size_t wanted = c.weeks.size();
  bool in_order = c.plan.weeks.size() == wanted;
  for (std::size_t i = 0; in_order && i < wanted; ++i) in_order = c.plan.weeks[i].index == c.weeks[i].index;
  if (!in_order) {
    findings.add("form-weeks", c.plan.as_of,
                 fmt::format("the plan's {} weeks are not the {} weeks from {} to the test, in order",
                             c.plan.weeks.size(), wanted, iso(c.plan.as_of)));
  }
  for (const WeekFacts& week : c.weeks) {
    if (week.planned != nullptr) check_week_frame(c, week, *week.planned, findings);
  }
}

void check_days_in_order(const Case& c, Findings& findings) {
  const PlannedDay* previous = nullptr;
  for (const PlannedWeek& week : c.plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (previous != nullptr && day.date <= previous->date) {
        findings.add("form-days", day.date,
                     fmt::format("{} comes after {}", iso(day.date), iso(previous->date)));
      }
      previous = &day;
    }
  }
}

void check_phase(const Case& c, const WeekFacts& week, Findings& findings) {
  const bool last_days_in_taper = week.days.back()->date >= c.taper_from;
  const bool all_in_taper = week.starts() >= c.taper_from;
  const auto fault = [&](const char* why) {
    findings.add("form-phase", week.starts(),
                 fmt::format("week {} is called {}, but {}", week.index, to_string(week.phase), why));
  };
  if (week.phase == Phase::taper && !last_days_in_taper) fault("the taper has not begun");
  if (week.phase != Phase::taper && week.phase != Phase::blocked && all_in_taper) fault("it is in the taper");
  if (week.index == 1 && week.phase != Phase::taper && week.phase != Phase::blocked) {
    if (!all_in_taper) fault("it is the last week before the test");
  }
  if (week.phase == Phase::blocked && (week.blocked_days == 0 || week.counts())) {
    fault("too few of its days are blocked");
  }
  if (week.phase == Phase::build && week.open_days() == 0) fault("all its days are blocked");
}

void check_texts(const PlannedDay& day, const Block& block, Findings& findings) {
  if (block.prescription.empty() || block.why.empty() || block.stop.empty()) {
    findings.add("form-text", day.date,
                 fmt::format("{}: the block lacks what to do, why, or when to stop", block.work));
  }
}

}  // namespace

void check_form(const Case& c, Findings& findings) {
  const int age = age_on(c.candidate.birth_date, c.candidate.test_date);
  if (c.plan.age != age) {
    findings.add("form-plan", c.plan.as_of,
                 fmt::format("the plan takes the age on the test day as {}; it is {}", c.plan.age, age));
  }
  if (is_refused(c) && c.plan.weeks.empty()) return;
  check_weeks_in_order(c, findings);
  check_days_in_order(c, findings);
  for (const WeekFacts& week : c.weeks) {
    if (week.planned != nullptr) check_phase(c, week, findings);
  }
  for (const PlannedWeek& week : c.plan.weeks) {
    for (const PlannedDay& day : week.days) {
      for (const Block& block : day.blocks) check_texts(day, block, findings);
    }
  }
}

}  // namespace backplan::checking

// What a day may hold next to other days: blocked days, fixed work, diagnostics, night shifts,
// field exercises, marches, and how far a run may go.
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

#include "core/check_case.hpp"

namespace backplan::checking {
namespace {

// Metres that rounding in a file may add to a run at its limit.
constexpr double kRunSlackMetres = 0.5;

void check_blocked(const DayFacts& day, Findings& findings) {
  if (!day.blocked) return;
  for (const PlannedDay* entry : day.entries) {
    if (!entry->blocks.empty()) findings.add("blocked-day", day.date, "blocks on a blocked day");
    if (!entry->fixed.empty() || entry->fixed_minutes != 0) {
      findings.add("blocked-day", day.date, "fixed work on a blocked day");
    }
  }
}

void check_fixed(const DayFacts& day, Findings& findings) {
  if (day.blocked) return;
  int minutes = 0;
  bool named = false;
  for (const PlannedDay* entry : day.entries) {
    minutes += entry->fixed_minutes;
    named = named || !entry->fixed.empty();
  }
  if (named != day.fixed || minutes != day.fixed_minutes) {
    findings.add(
        "fixed-work", day.date,
        fmt::format("the calendar fixes {} minutes of work; the plan shows {}", day.fixed_minutes, minutes));
  }
}

void check_diagnostic(const Case& c, const DayFacts& day, Findings& findings) {
  if (!day.diagnostic) return;
  if (day.planned()) findings.add("diagnostic", day.date, "training on the day of a diagnostic test");
  for (int away = -c.rules.easy_days_before_diagnostic; away <= c.rules.easy_days_after_diagnostic; ++away) {
    const DayFacts* beside = c.day(day.date + Days{away});
    if (away == 0 || beside == nullptr || !beside->planned_hard()) continue;
    findings.add("diagnostic-easy-days", beside->date,
                 fmt::format("hard training {} days {} the diagnostic test of {}", std::abs(away),
                             away < 0 ? "before" : "after", iso(day.date)));
  }
}

void check_march(const Case& c, const DayFacts& day, Findings& findings) {
  if (!day.long_march) return;
  for (int away = -1; away <= 1; ++away) {
    const DayFacts* near = c.day(day.date + Days{away});
    if (near == nullptr || (!near->has_running() && !near->has_lift())) continue;
    findings.add("march-spacing", near->date,
                 fmt::format("a run or a lift on or next to the march of {}", iso(day.date)));
  }
}

void check_field(const Case& c, Findings& findings) {
  for (const Span& spell : blocked_runs(c.candidate, {BlockedKind::field})) {
    for (int after = 1; after <= c.rules.easy_days_after_field; ++after) {
      const DayFacts* day = c.day(spell.to + Days{after});
      if (day == nullptr || !day->planned_hard()) continue;
      findings.add("after-field", day->date,
                   fmt::format("hard training {} days after the field exercise to {}", after, iso(spell.to)));
    }
  }
}

// The longest continuous run of the days before this one that still count.
Metres longest_before(const Case& c, Date date) {
  Metres longest{0.0};
  const int reach = c.rules.longest_run_days;
  if (c.candidate.now.longest_run && (date - c.plan.as_of).count() <= reach) {
    longest = *c.candidate.now.longest_run;
  }
  for (int back = 1; back <= reach; ++back) {
    const DayFacts* day = c.day(date - Days{back});
    if (day == nullptr) break;
    longest = std::max(longest, day->fixed_run);
    for (const BlockFacts& block : day->blocks) {
      if (block.block->continuous_run) longest = std::max(longest, *block.block->continuous_run);
    }
  }
  return longest;
}

void check_run_length(const Case& c, const DayFacts& day, Findings& findings) {
  for (const BlockFacts& block : day.blocks) {
    if (!block.block->continuous_run) continue;
    const Metres longest = longest_before(c, day.date);
    const Metres most = std::max(longest * c.rules.longest_run_growth, c.rules.longest_run_floor);
    if (block.block->continuous_run->value() <= most.value() + kRunSlackMetres) continue;
    findings.add("run-length", day.date,
                 fmt::format("{:.0f} m without a break; at most {:.0f} m after {:.0f} m in the last {} days",
                             block.block->continuous_run->value(), most.value(), longest.value(),
                             c.rules.longest_run_days));
  }
}

}  // namespace

void check_days(const Case& c, Findings& findings) {
  for (const DayFacts& day : c.days) {
    check_blocked(day, findings);
    check_fixed(day, findings);
    check_diagnostic(c, day, findings);
    check_march(c, day, findings);
    check_run_length(c, day, findings);
    if (day.after_night && day.planned_hard()) {
      findings.add("night-shift", day.date, "hard training after a night shift");
    }
  }
  check_field(c, findings);
}

}  // namespace backplan::checking

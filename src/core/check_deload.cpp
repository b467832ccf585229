// The lighter weeks: when they are due, when they may not be, and what they look like.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "core/check_case.hpp"

namespace backplan::checking {
namespace {

constexpr std::size_t kWeeksCompared = 3;  // "the last three build weeks"

bool is_rested_by(const WeekFacts& week, const Span& spell) {
  return spell.from <= week.days.back()->date && week.starts() <= spell.to;
}

// A rest or light spell of some days does what a deload does, and so does a week in which nothing is done but
// what is fixed in every week, which a deload keeps, too.
bool is_deload(const Case& c, const WeekFacts& week) {
  if (week.phase == Phase::deload) return true;
  if (week.full_build() && week.minutes == 0) return true;
  for (const Span& spell : blocked_runs(c.candidate, {BlockedKind::rest, BlockedKind::light})) {
    if (spell.days() >= c.rules.deload_counts_from_days && is_rested_by(week, spell)) return true;
  }
  return false;
}

bool deload_needed(const Case& c) {
  return std::any_of(c.weeks.begin(), c.weeks.end(), [&](const WeekFacts& week) {
    return week.phase == Phase::build && week.hard_sessions() >= c.rules.deload_from_hard_sessions;
  });
}

void check_due(const Case& c, Findings& findings) {
  int build = 0;
  Date since{};
  for (const WeekFacts& week : c.weeks) {
    if (is_deload(c, week)) {
      build = 0;
    } else if (week.phase == Phase::build && week.counts()) {
      if (++build == 1) since = week.starts();
      if (build == c.rules.build_weeks_before_deload + 1) {
        findings.add("deload-missing", week.starts(),
                     fmt::format("more than {} build weeks since {} without a deload",
                                 c.rules.build_weeks_before_deload, iso(since)));
      }
    }
  }
}

int usual_week(const Candidate& candidate) {
  int minutes = 0;
  for (const int each : candidate.week) minutes += each;
  return minutes;
}

// No session of the weeks before is short enough for a lighter week: then it holds none.
bool holds_no_session(const Case& c, const std::vector<const WeekFacts*>& before, double usual) {
  return std::none_of(before.begin(), before.end(), [&](const WeekFacts* week) {
    return std::any_of(week->days.begin(), week->days.end(), [&](const DayFacts* day) {
      return day->session_minutes() > 0 && day->session_minutes() <= c.rules.deload_most * usual;
    });
  });
}

void check_minutes(const Case& c, const WeekFacts& week, const std::vector<const WeekFacts*>& before,
                   Findings& findings) {
  const std::optional<double> usual = usual_minutes(c, week.starts());
  if (!usual) return;
  // A practice test takes a morning of its own, and the days before it are easy.
  const bool tested =
      std::any_of(week.days.begin(), week.days.end(), [](const DayFacts* day) { return day->diagnostic; });
  const bool cut = tested || week.blocked_days > 0 || week.slot_minutes < usual_week(c.candidate) ||
                   holds_no_session(c, before, *usual);
  const bool over = week.minutes > c.rules.deload_most * *usual + kSlack;
  const bool under = week.minutes < c.rules.deload_least * *usual - kSlack;
  if (!over && (!under || cut)) return;
  findings.add("deload-minutes", week.starts(),
               fmt::format("{} minutes in deload week {}; {:.0f} to {:.0f} % of {:.1f}", week.minutes,
                           week.index, 100.0 * c.rules.deload_least, 100.0 * c.rules.deload_most, *usual));
}

bool differs(const Case& c, const WeekFacts& week) {
  const bool overridden =
      std::any_of(c.candidate.days.begin(), c.candidate.days.end(), [&](const DayOverride& over) {
        return week.starts() <= over.date && over.date <= week.days.back()->date;
      });
  return overridden || week.blocked_days > 0 || !week.whole();
}

std::set<int> training_weekdays(const WeekFacts& week) {
  std::set<int> weekdays;
  for (const DayFacts* day : week.days) {
    for (const BlockFacts& block : day->blocks) {
      if (!block.home) weekdays.insert(weekday_index(day->date));
    }
  }
  return weekdays;
}

// The same days and no more hard work than in the weeks by which its minutes are measured.
void check_like_before(const Case& c, const WeekFacts& week, const std::vector<const WeekFacts*>& before,
                       Findings& findings) {
  std::set<int> usual;
  bool alike = !differs(c, week);
  int hard = 0;
  for (const WeekFacts* build : before) {
    usual.merge(training_weekdays(*build));
    alike = alike && !differs(c, *build);
    hard = std::max(hard, build->hard_sessions());
  }
  if (week.planned_hard_blocks > 0 && week.hard_sessions() > hard) {
    findings.add("deload-hard", week.starts(),
                 fmt::format("{} hard sessions in deload week {}; {} in the weeks before",
                             week.hard_sessions(), week.index, hard));
  }
  const std::set<int> now = training_weekdays(week);
  if (!alike || std::includes(usual.begin(), usual.end(), now.begin(), now.end())) return;
  findings.add("deload-days", week.starts(),
               fmt::format("deload week {} trains on other days than the weeks before", week.index));
}

void check_place(const Case& c, const WeekFacts& week, Findings& findings) {
  const int taper_index = c.week_index(c.taper_from);
  if (week.index > taper_index + c.rules.no_deload_weeks_before_taper) return;
  findings.add(
      "deload-too-late", week.starts(),
      fmt::format("deload in week {}; the taper begins in week {} and the {} weeks before it have none",
                  week.index, taper_index, c.rules.no_deload_weeks_before_taper));
}

}  // namespace

void check_deload(const Case& c, Findings& findings) {
  const bool needed = deload_needed(c);
  if (needed) check_due(c, findings);
  std::vector<const WeekFacts*> last_builds;
  for (const WeekFacts& week : c.weeks) {
    if (week.phase == Phase::build && week.counts()) {
      last_builds.push_back(&week);
      if (last_builds.size() > kWeeksCompared) last_builds.erase(last_builds.begin());
    }
    if (week.phase != Phase::deload) continue;
    if (!needed) {
      findings.add("deload-needless", week.starts(),
                   fmt::format("deload in week {}, but no week has {} hard sessions", week.index,
                               c.rules.deload_from_hard_sessions));
    }
    check_place(c, week, findings);
    check_minutes(c, week, last_builds, findings);
    if (!last_builds.empty()) check_like_before(c, week, last_builds, findings);
  }
}

}  // namespace backplan::checking

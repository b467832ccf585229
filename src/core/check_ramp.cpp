// How fast training may grow: hard sessions from week to week, and the minutes of the first weeks
// of somebody untrained or back from a long spell without training.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "core/check_case.hpp"

namespace backplan::checking {
namespace {

bool is_open_training(const WeekFacts& week) {
  return week.counts() && (week.phase == Phase::build || week.phase == Phase::blocked);
}

void check_hard_sessions(const Case& c, Findings& findings) {
  const int start = c.candidate.now.hard_sessions.value_or(c.rules.hard_sessions_at_start.of(c.background));
  int last = start;
  int before_last = start;
  for (const WeekFacts& week : c.weeks) {
    const int most = std::max(last, before_last) + c.rules.hard_sessions_step;
    if (week.planned_hard_blocks > 0 && week.hard_sessions() > most) {
      findings.add("ramp-hard", week.starts(),
                   fmt::format("{} hard sessions in week {}; at most {} after {} and {}",
                               week.hard_sessions(), week.index, most, before_last, last));
    }
    if (!is_open_training(week)) continue;
    before_last = last;
    last = week.hard_sessions();
  }
}

using Shares = std::map<int, double>;  // by week index

// The shares hold for the weeks from `first` on that have an open day, one after the other.
void apply(const Case& c, int first, const std::vector<double>& shares, Shares& all) {
  std::size_t next = 0;
  for (int index = first; index >= 1 && next < shares.size(); --index) {
    const auto week = std::find_if(c.weeks.begin(), c.weeks.end(),
                                   [&](const WeekFacts& each) { return each.index == index; });
    if (week != c.weeks.end() && week->open_days() == 0) continue;
    const double share = shares[next++];
    const auto [entry, added] = all.try_emplace(index, share);
    if (!added) entry->second = std::min(entry->second, share);
  }
}

bool is_untrained(const Case& c) {
  const std::optional<int>& minutes = c.candidate.now.minutes;
  if (minutes) return *minutes < c.rules.untrained_under_minutes;
  return c.background == Background::new_to_training;
}

Shares shares_of(const Case& c) {
  Shares all;
  const auto& since = c.candidate.now.since;
  const int begun = since ? c.week_index(*since) : c.weeks.front().index;
  if (is_untrained(c)) apply(c, begun, c.rules.untrained_shares, all);
  for (const Span& spell : spells_without(c, all_work(c))) {
    const Date back = spell.to + Days{1};
    if (back >= c.candidate.test_date) continue;
    if (spell.days() >= c.rules.off_days_for_untrained) {
      apply(c, c.week_index(back), c.rules.untrained_shares, all);
    } else if (spell.days() >= c.rules.lost_days_for_half) {
      apply(c, c.week_index(back), {c.rules.half_share}, all);
    }
  }
  return all;
}

}  // namespace

void check_ramp(const Case& c, Findings& findings) {
  if (c.weeks.empty()) return;
  check_hard_sessions(c, findings);
  const Shares shares = shares_of(c);
  for (const WeekFacts& week : c.weeks) {
    const auto share = shares.find(week.index);
    if (share == shares.end() || week.session_minutes <= share->second * week.slot_minutes + kSlack) continue;
    findings.add("ramp-minutes", week.starts(),
                 fmt::format("{} minutes in week {}; at most {:.0f} % of its {} after so little training",
                             week.session_minutes, week.index, 100.0 * share->second, week.slot_minutes));
  }
}

}  // namespace backplan::checking

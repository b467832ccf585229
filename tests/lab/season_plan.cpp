#include "lab/season_plan.hpp"

#include "core/plan_start.hpp"
#include "core/plan_writer.hpp"

namespace backplan::lab {
namespace {

constexpr int kDaysInWeek = 7;

// Weeks that are over, as the old plan had them. Decisions fall on first days of weeks, so none is cut.
std::vector<PlannedWeek> past_weeks(const Situation& now) {
  std::vector<PlannedWeek> out;
  if (!now.history.plan) return out;
  for (const PlannedWeek& week : now.history.plan->weeks) {
    if (week.starts < now.as_of) out.push_back(week);
  }
  return out;
}

}  // namespace

Beginning beginning_of(const Situation& now) {
  return {
      so_far_of(now.history, now.knowledge.model, now.as_of, now.as_of), {}, now.history.plan.has_value()};
}

Decision decision_of(const Situation& now, const Candidate& seen, const SeasonPlanner& planner,
                     const Season& season) {
  Decision out;
  out.seen = seen;
  set_heading(out.ahead, seen, now.knowledge, now.as_of);
  out.ahead.minutes_available = planner.available_minutes();
  out.ahead.minutes_per_week = season.minutes_per_week;
  out.ahead.without_training = planner.outlook(planner.holding());
  out.ahead.outlook = planner.outlook(season.dosage);
  write_weeks(out.ahead, season, planner, seen, now.knowledge, now.as_of, now.history);
  out.plan = out.ahead;
  const auto past = past_weeks(now);
  out.plan.weeks.insert(out.plan.weeks.begin(), past.begin(), past.end());
  return out;
}

Decision unchanged(const Situation& now) {
  Decision out;
  out.seen = now.candidate;
  out.plan = *now.history.plan;
  return out;
}

bool last_week(const Situation& now) {
  return now.history.plan && (now.candidate.test_date - now.as_of).count() <= kDaysInWeek;
}

}  // namespace backplan::lab

#include "lab/planner_policies.hpp"

#include "lab/season_plan.hpp"

namespace backplan::lab {

PlanOptions quick_options() {
  PlanOptions out;
  out.prove = false;
  out.ways_out = false;
  return out;
}

PlanOptions proven_options() {
  PlanOptions out;
  out.ways_out = false;
  return out;
}

Decision PlanOnce::decide(const Situation& now) {
  if (now.history.plan) return unchanged(now);
  Decision out;
  out.seen = now.candidate;
  out.ahead = make_plan(now.candidate, now.knowledge, now.as_of, quick_options());
  out.plan = out.ahead;
  return out;
}

Decision ReplanWeekly::decide(const Situation& now) {
  Decision out;
  if (!now.history.plan) {
    out.seen = now.candidate;
    out.ahead = make_plan(now.candidate, now.knowledge, now.as_of, options_);
    out.plan = out.ahead;
    return out;
  }
  Replan found = replan(now.candidate, now.knowledge, now.as_of, now.history, options_);
  out.seen = std::move(found.seen);
  out.ahead = std::move(found.ahead);
  out.plan = std::move(found.plan);
  return out;
}

}  // namespace backplan::lab

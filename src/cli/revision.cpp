#include "cli/revision.hpp"

#include <algorithm>
#include <set>

#include "io/plan_json.hpp"

namespace backplan::cli {
namespace {

std::set<Date> training_days(const Plan& plan) {
  std::set<Date> days;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (!day.blocks.empty() || !day.note.empty()) days.insert(day.date);
    }
  }
  return days;
}

}  // namespace

Plan revised(Plan plan, const Plan& old, const Standard& standard) {
  if (plan.candidate != old.candidate || plan.standard != old.standard) return plan;
  plan.revision = old.revision;
  plan.withdrawn = old.withdrawn;
  const auto text = [&](const Plan& one) { return io::write_plan(one, standard, BACKPLAN_VERSION); };
  if (text(plan) == text(old)) return plan;
  ++plan.revision;
  const std::set<Date> now = training_days(plan);
  std::set<Date> gone(old.withdrawn.begin(), old.withdrawn.end());
  for (const Date date : training_days(old)) {
    if (date >= plan.as_of) gone.insert(date);
  }
  plan.withdrawn.clear();
  for (const Date date : gone) {
    if (now.count(date) == 0) plan.withdrawn.push_back(date);
  }
  return plan;
}

}  // namespace backplan::cli

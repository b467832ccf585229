#include "cli/revision.hpp"

#include <algorithm>
#include <set>

#include "io/plan_json.hpp"
#include "io/programme_json.hpp"
#include "report/squad_view.hpp"

namespace backplan::cli {
namespace {

std::set<Date> training_days(const Plan& plan) {
  std::set<Date> days;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (!day.blocks.empty() || !day.fixed.empty() || !day.note.empty()) days.insert(day.date);
    }
  }
  return days;
}

// Days to come that this or an earlier revision had and the new one has not.
std::vector<Date> withdrawn_days(const std::set<Date>& now, const std::set<Date>& before,
                                 const std::vector<Date>& withdrawn, Date as_of) {
  std::set<Date> gone(withdrawn.begin(), withdrawn.end());
  for (const Date date : before) {
    if (date >= as_of) gone.insert(date);
  }
  std::vector<Date> out;
  for (const Date date : gone) {
    if (now.count(date) == 0) out.push_back(date);
  }
  return out;
}

}  // namespace

Plan revised(Plan plan, const Plan& old, const Standard& standard) {
  if (plan.candidate != old.candidate || plan.standard != old.standard) return plan;
  plan.revision = old.revision;
  plan.withdrawn = old.withdrawn;
  const auto text = [&](const Plan& one) { return io::write_plan(one, standard, BACKPLAN_VERSION); };
  if (text(plan) == text(old)) return plan;
  ++plan.revision;
  plan.withdrawn = withdrawn_days(training_days(plan), training_days(old), old.withdrawn, plan.as_of);
  return plan;
}

Programme revised(Programme programme, const Programme& old, const std::string& old_bytes,
                  const Standard& standard) {
  if (programme.squad != old.squad || programme.standard != old.standard) return programme;
  programme.revision = old.revision;
  programme.withdrawn = old.withdrawn;
  if (io::write_programme(programme, standard, BACKPLAN_VERSION) == old_bytes) return programme;
  ++programme.revision;
  programme.withdrawn = withdrawn_days(report::active_days(programme), report::active_days(old),
                                       old.withdrawn, programme.as_of);
  return programme;
}

}  // namespace backplan::cli

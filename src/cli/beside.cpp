#include "cli/beside.hpp"

#include <string>

#include "backplan/work_off.hpp"

namespace backplan::cli {

Beside beside_of(const Plan& plan, const std::vector<Done>& entries, const Candidate& candidate,
                 const Model& model, const PainRules& pain, Date today) {
  std::vector<std::string> all_work;
  for (const WorkKind& kind : model.work) all_work.push_back(kind.id);
  Beside out{{report::marks_of(plan, entries, today), {}}, pain_stops(entries, pain, all_work, today)};
  for (Date date = today; date < plan.test_date; date += Days(1))
    out.notes.off[date] = work_off(candidate, out.stops, model, pain, date);
  return out;
}

}  // namespace backplan::cli

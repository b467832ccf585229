#include "cli/beside.hpp"

#include <string>

#include "backplan/work_off.hpp"

namespace backplan::cli {

Beside beside_of(const Plan& plan, const std::vector<Done>& entries, const Candidate& candidate,
                 const Model& model, const PainRules& pain, Date today) {
  Beside out{{report::marks_of(plan, entries, today), {}}, pain_of(entries, model, pain, today)};
  for (Date date = today; date < plan.test_date; date += Days(1))
    out.notes.off[date] = work_off(candidate, out.stops, model, pain, date);
  return out;
}

}  // namespace backplan::cli

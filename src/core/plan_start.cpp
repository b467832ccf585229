#include "core/plan_start.hpp"

#include <cmath>

#include "backplan/history.hpp"
#include "backplan/score.hpp"

namespace backplan {

std::string refusal(const Candidate& candidate, Date as_of) {
  const Medical& medical = candidate.medical;
  if (medical.status == MedicalStatus::pregnant) {
    return "no plan during pregnancy: ask your provider and the pregnancy and postpartum training programme";
  }
  if (medical.status == MedicalStatus::postpartum && (!medical.cleared_on || *medical.cleared_on > as_of)) {
    return "no plan before a provider has cleared you after pregnancy: enter \"cleared_on\" when that is "
           "done";
  }
  return {};
}

void note_latest(Outlook& outlook, const Candidate& candidate, const Standard& standard,
                 const History& history, Date as_of) {
  const std::vector<DatedResult> results = results_so_far(candidate, history, as_of);
  for (EventOutlook& now : outlook.events) {
    const Event* event = standard.find_event(now.event);
    const DatedResult* latest = latest_result(results, *event);
    now.now_differs = latest != nullptr && now.now_result &&
                      std::fabs(*now.now_result - latest->value) > 0.5 * event->resolution;
  }
}

void set_heading(Plan& plan, const Candidate& candidate, const Knowledge& knowledge, Date as_of) {
  plan.candidate = candidate.id;
  plan.as_of = as_of;
  plan.test_date = candidate.test_date;
  plan.standard = knowledge.standard.id;
  plan.standard_hash = knowledge.standard.content_hash;
  plan.model_hash = defaults_hash(knowledge.model, knowledge.rules);
  plan.category = candidate.category;
  plan.age = age_on(candidate.birth_date, candidate.test_date);
  plan.target = candidate.target;
}

}  // namespace backplan

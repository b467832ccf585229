#include "backplan/check.hpp"

#include <utility>

#include "core/check_case.hpp"

namespace backplan {

std::vector<Violation> check_plan(const Plan& plan, const Candidate& candidate, const Standard& standard,
                                  const Model& model, const Rules& rules) {
  checking::Findings findings;
  if (plan.test_date != candidate.test_date) {
    findings.add("form-plan", plan.test_date,
                 "the plan is for a test on " + checking::iso(plan.test_date) + ", the candidate's is on " +
                     checking::iso(candidate.test_date));
    return std::move(findings).sorted();
  }
  if (plan.standard != standard.id || plan.candidate != candidate.id) {
    findings.add("form-plan", plan.as_of, "the plan is of another candidate or another standard");
  }
  const checking::Case c = checking::lay_out(plan, candidate, model, rules);
  checking::check_form(c, findings);
  // Who is referred instead gets no days at all: nothing of them can break a rule.
  if (checking::is_refused(c) && plan.weeks.empty()) return std::move(findings).sorted();
  checking::check_slots(c, findings);
  checking::check_work_allowed(c, findings);
  checking::check_days(c, findings);
  checking::check_weeks(c, findings);
  checking::check_ramp(c, findings);
  checking::check_return(c, findings);
  checking::check_deload(c, findings);
  checking::check_taper(c, findings);
  checking::check_medical(c, findings);
  return std::move(findings).sorted();
}

}  // namespace backplan

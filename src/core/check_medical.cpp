// Whom the plan must leave alone, and what a profile or a recent birth allows.
#include <fmt/format.h>

#include "core/check_case.hpp"

namespace backplan::checking {
namespace {

void check_profile(const Case& c, Findings& findings) {
  const Medical& medical = c.candidate.medical;
  for (const DayFacts& day : c.days) {
    if (medical.since && day.date < *medical.since) continue;
    if (medical.until && day.date > *medical.until) continue;
    for (const BlockFacts& block : day.blocks) {
      if (medical.permitted.count(block.kind->id) != 0) continue;
      findings.add("medical-profile", day.date,
                   fmt::format("{} is not among what the profile permits", block.kind->id));
    }
  }
}

void check_no_maximal_test(const Case& c, Findings& findings) {
  for (const DayFacts& day : c.days) {
    for (const BlockFacts& block : day.blocks) {
      if (!block.block->rehearsal) continue;
      findings.add("medical-rehearsal", day.date,
                   fmt::format("a timed rehearsal of {} after a birth", block.kind->id));
    }
  }
}

}  // namespace

bool is_refused(const Case& c) {
  const Medical& medical = c.candidate.medical;
  if (medical.status == MedicalStatus::pregnant) return true;
  if (medical.status != MedicalStatus::postpartum) return false;
  return !medical.cleared_on || *medical.cleared_on > c.plan.as_of;
}

void check_medical(const Case& c, Findings& findings) {
  if (is_refused(c)) {
    if (c.plan.weeks.empty()) return;
    findings.add("medical-refused", c.plan.as_of, "a plan for somebody who must be referred instead");
    return;
  }
  if (c.candidate.medical.status == MedicalStatus::profile) check_profile(c, findings);
  if (c.candidate.medical.status == MedicalStatus::postpartum) check_no_maximal_test(c, findings);
}

}  // namespace backplan::checking

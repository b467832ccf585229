#include "backplan/work_off.hpp"

#include <algorithm>
#include <map>

namespace backplan {
namespace {

// Why nothing at all may be done; empty otherwise.
std::string all_off(const Medical& medical, Date day) {
  if (medical.status == MedicalStatus::pregnant) return "no training by this plan during pregnancy";
  if (medical.status == MedicalStatus::postpartum && (!medical.cleared_on || *medical.cleared_on > day))
    return "not before a provider has cleared you after pregnancy";
  return {};
}

std::string why_off(const std::string& work, const Candidate& candidate, Date day,
                    const std::string& said_by) {
  const Medical& medical = candidate.medical;
  if (const std::string why = all_off(medical, day); !why.empty()) return why;
  const bool on_profile = medical.status == MedicalStatus::profile &&
                          (!medical.since || day >= *medical.since) &&
                          (!medical.until || day <= *medical.until);
  if (on_profile && medical.permitted.count(work) == 0) return "not among what the profile permits";
  for (const Avoid& avoid : candidate.avoid) {
    if (avoid.work != work || (avoid.from && day < *avoid.from) || (avoid.until && day > *avoid.until))
      continue;
    return "avoided by " + said_by + (avoid.why.empty() ? "" : ": " + avoid.why);
  }
  return {};
}

}  // namespace

std::vector<PainStop> pain_of(const std::vector<Done>& standing, const Model& model, const PainRules& rules,
                              Date day) {
  return pain_stops(standing, rules, model.work_ids(), day);
}

std::vector<WorkOff> work_off(const Candidate& candidate, const std::vector<PainStop>& stops,
                              const Model& model, const PainRules& rules, Date day,
                              const std::string& said_by) {
  std::vector<WorkOff> out;
  std::set<std::string> off;
  for (const WorkKind& kind : model.work) {
    WorkOff one{kind.id, {}, {}};
    for (const PainStop& stop : stops) {
      const bool stopped = std::count(stop.work.begin(), stop.work.end(), kind.id) > 0;
      if (stopped && one.why.empty()) one.why = "pain (" + stop.region + ")";
    }
    if (one.why.empty()) one.why = why_off(kind.id, candidate, day, said_by);
    if (one.why.empty()) continue;
    off.insert(kind.id);
    out.push_back(std::move(one));
  }
  for (WorkOff& one : out) one.instead = substitutes_for(one.work, off, rules);
  return out;
}

std::vector<std::string> substitutes_for(const std::string& work, const std::set<std::string>& off,
                                         const PainRules& rules) {
  std::vector<std::string> out;
  const auto found = rules.substitutes.find(work);
  if (found == rules.substitutes.end()) return out;
  for (const std::string& other : found->second) {
    if (off.count(other) == 0) out.push_back(other);
  }
  return out;
}

}  // namespace backplan

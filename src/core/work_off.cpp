#include "backplan/work_off.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

namespace backplan {
namespace {

// Why nothing at all may be done; empty otherwise.
std::string all_off(const Medical& medical, Date day) {
  if (medical.status == MedicalStatus::pregnant) return "no training by this plan during pregnancy";
  if (medical.status == MedicalStatus::postpartum && (!medical.cleared_on || *medical.cleared_on > day))
    return "not before a provider has cleared you after pregnancy";
  return {};
}

bool lies_in(Date day, const std::optional<Date>& from, const std::optional<Date>& until) {
  return (!from || day >= *from) && (!until || day <= *until);
}

std::string words_of(const Ban& ban, const std::string& said_by) {
  if (ban.by == OffBy::medical) return ban.why;
  if (ban.by == OffBy::profile) return "not among what the profile permits";
  if (ban.by == OffBy::nothing) return {};
  return "avoided by " + said_by + (ban.why.empty() ? "" : ": " + ban.why);
}

}  // namespace

Ban ban_on(const std::string& work, const Candidate& candidate, Date day) {
  const Medical& medical = candidate.medical;
  if (std::string why = all_off(medical, day); !why.empty()) return {OffBy::medical, std::move(why)};
  const bool on_profile =
      medical.status == MedicalStatus::profile && lies_in(day, medical.since, medical.until);
  if (on_profile && medical.permitted.count(work) == 0) return {OffBy::profile, {}};
  for (const Avoid& avoid : candidate.avoid) {
    if (avoid.work == work && lies_in(day, avoid.from, avoid.until)) return {OffBy::avoided, avoid.why};
  }
  return {};
}

Ban main_ban(const std::vector<std::string>& work, const Candidate& candidate,
             const std::vector<Date>& days) {
  struct Cause {
    Ban first;
    int times = 0;
  };
  std::map<OffBy, Cause> causes;
  for (const Date day : days) {
    for (const std::string& one : work) {
      const Ban ban = ban_on(one, candidate, day);
      ++causes.try_emplace(ban.by, Cause{ban, 0}).first->second.times;
    }
  }
  const auto main = std::max_element(causes.begin(), causes.end(), [](const auto& a, const auto& b) {
    return a.second.times < b.second.times;
  });
  return main == causes.end() ? Ban{} : main->second.first;
}

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
    if (one.why.empty()) one.why = words_of(ban_on(kind.id, candidate, day), said_by);
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

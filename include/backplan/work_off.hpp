// Work that may not be done on a day, whatever a plan made before says: pain, a profile, pregnancy, what the
// candidate avoids. `show` takes it off a plan that does not know of it yet.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/journal.hpp"
#include "backplan/model.hpp"

namespace backplan {

struct WorkOff {
  std::string work;
  std::string why;                   // "pain (back)"
  std::vector<std::string> instead;  // kinds that may stand in for it and are not off, best first
};

// The pain that holds on `day` by what stands in a journal, over the work of this model.
[[nodiscard]] std::vector<PainStop> pain_of(const std::vector<Done>& standing, const Model& model,
                                            const PainRules& rules, Date day);

// In the order of the model. `stops`: the pain that holds; it counts for every day. `said_by`: the file that
// the candidate comes from.
[[nodiscard]] std::vector<WorkOff> work_off(const Candidate& candidate, const std::vector<PainStop>& stops,
                                            const Model& model, const PainRules& rules, Date day,
                                            const std::string& said_by = "candidate.json");

// What takes work off a day whatever is planned, by what is named first. Pain of the journal is not asked.
enum class OffBy { medical, profile, avoided, nothing };
struct Ban {
  OffBy by = OffBy::nothing;
  std::string why;  // medical: in words; avoided: the candidate's own, which may be empty
};
[[nodiscard]] Ban ban_on(const std::string& work, const Candidate& candidate, Date day);
// What keeps these kinds of work off most of these days; of what does so equally often, what is named first.
// `nothing`: something else.
[[nodiscard]] Ban main_ban(const std::vector<std::string>& work, const Candidate& candidate,
                           const std::vector<Date>& days);

// Kinds that may stand in for `work` by data/model/rules.json, without those that are off.
[[nodiscard]] std::vector<std::string> substitutes_for(const std::string& work,
                                                       const std::set<std::string>& off,
                                                       const PainRules& rules);

}  // namespace backplan

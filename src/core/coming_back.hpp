// Work that comes back after weeks without it: which days were without, and how gently it returns
// (data/model/rules.json, ramp.coming_back).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/planner.hpp"
#include "backplan/rules.hpp"

namespace backplan {

// Whether a profile permits the work on this day and the person does not avoid it.
[[nodiscard]] bool is_permitted(const Candidate& candidate, const std::string& work, Date date);

// The work that a plan may place for this standard.
[[nodiscard]] std::vector<const WorkKind*> placeable(const Knowledge& knowledge);
// Whether a profile, or all that is avoided, leaves nothing of this work on this day.
[[nodiscard]] bool none_permitted(const Candidate& candidate, const std::vector<const WorkKind*>& work,
                                  Date date);

// Days on which nothing may be done at all (a profile that permits nothing, everything avoided), as spells of
// rest: with what is blocked anyway no day is in two.
[[nodiscard]] std::vector<BlockedSpell> days_of_nothing(const Candidate& candidate,
                                                        const std::vector<const WorkKind*>& work, Date as_of);

// Unbroken runs of days on which none of this work could be done, by date: blocked, off by the journal, none
// of it permitted, no minutes where there usually are some. Days that never have minutes join what lies on
// both sides of them. What holds from no stated day has held for long.
[[nodiscard]] std::vector<DaysOff> spells_without(const Candidate& candidate,
                                                  const std::vector<const WorkKind*>& work, Date as_of);

// What is lost and comes back together: all running, any other kind by itself.
[[nodiscard]] std::vector<const WorkKind*> comes_back_with(const WorkKind& kind,
                                                           const std::vector<const WorkKind*>& kinds);

// Running that is more than easy.
[[nodiscard]] bool is_fast_running(const WorkKind& kind);

// The first days again after spells that were long enough for a gentle return.
[[nodiscard]] std::vector<Date> returns_of(const std::vector<DaysOff>& spells, const Rules& rules);
// Days since the latest of them: 0 on the day itself. None before the first.
[[nodiscard]] std::optional<int> days_back(const std::vector<Date>& returns, Date date);

}  // namespace backplan

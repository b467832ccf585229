// What was really done so far, as the fit and the planner need it: the journal beside the plan it followed.
// docs/mathematics.md, "Dose from the journal".
#pragma once

#include <optional>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/journal.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/standard.hpp"
#include "backplan/units.hpp"

namespace backplan {

struct History {
  std::vector<Done> entries;   // that stand, in any order
  std::optional<Plan> plan;    // the plan they followed, past weeks included
  std::optional<Date> begins;  // the first day whose work is on record; none: results only, or nothing
  std::string basis;           // a hash of the candidate and the journal as they are; empty: not known
  // Nothing that the fit could use: no work, no missed day, no result.
  [[nodiscard]] bool empty() const;
};

// Of the entries that stand. The record begins with the first work or missed day: who logs results only
// has said nothing about the days between.
[[nodiscard]] History history_of(const Standing& standing, std::optional<Plan> plan = std::nullopt);

// Results of candidate.json and of the journal to `as_of`, by date.
[[nodiscard]] std::vector<DatedResult> results_so_far(const Candidate& candidate, const History& history,
                                                      Date as_of);

// The candidate as the planner sees it: `now` from the journal where it says more than the file. Hard
// sessions and minutes of the last two weeks once seven days are on record, the longest run of 30 days.
// Planned days without an entry count as the fit counts them.
[[nodiscard]] Candidate as_trained(const Candidate& candidate, const Model& model, const History& history,
                                   Date as_of);

}  // namespace backplan

// From a candidate to a finished plan: the whole flow in one call.
//   evidence -> progress -> outlook -> allocation -> calendar -> prescription -> plan
#pragma once

#include <optional>

#include "backplan/candidate.hpp"
#include "backplan/history.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/rules.hpp"
#include "backplan/standard.hpp"

namespace backplan {

// What the planner knows besides the candidate. The references must outlive the call.
struct Knowledge {
  const Standard& standard;
  const Model& model;
  const Rules& rules;
};

// The candidate as a plan sees it: trained as the journal says, without the work that pain has taken off, at
// rest on days on which nothing is permitted. The checker judges a plan by this candidate.
[[nodiscard]] Candidate as_seen(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                                const History& history);

// Why nothing can be planned at all; empty otherwise. Where it is not empty no command gives a chance, a
// forecast or advice.
[[nodiscard]] std::string refusal(const Candidate& candidate, Date as_of);

// Minutes a week between two budgets that are compared; yields are told by as many more.
inline constexpr int kMinutesStep = 15;
// To which days are made longer in the search for ways out: a judgement of what is worth asking for.
inline constexpr int kMostMinutesADay = 120;

struct PlanOptions {
  bool prove = true;      // work out the bound (a batch does without)
  bool ways_out = true;   // look for them when the answer is no
  bool write_out = true;  // prescriptions, yield and assumptions (a batch does without)
  std::optional<Date> keep_until = std::nullopt;  // days before it stay as the plan of the history has them
};

// `as_of` is today: the first day that can be planned. The candidate is valid (io/readers).
[[nodiscard]] Plan make_plan(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                             const PlanOptions& options = {});
// The same from what was really done: the fitted state, and the training of the last weeks as the start.
[[nodiscard]] Plan make_plan(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                             const History& history, const PlanOptions& options = {});

// The yield table alone, and the outlook that it is the slope of.
struct YieldReport {
  std::string refused;         // why there is none; then the rest is empty
  std::vector<YieldRow> rows;  // best first
  Outlook now;                 // holding what there is
};
[[nodiscard]] YieldReport work_out_yield(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                                         const History& history = {});

}  // namespace backplan

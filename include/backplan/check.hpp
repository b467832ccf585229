// The independent checker: judges a finished plan against the training rules, by reading the plan
// and the candidate only. With the planner it shares what the figures of the data mean: the functions of
// rules.hpp (minutes of a session, days of the taper, the limit of hard days) and thresholds of model.hpp
// (kThresholdTransfer), which tests of their own hold. It is given the candidate `as_seen` (planner.hpp), so
// that pain and days on which nothing is permitted are facts to it: tests of their own hold these, too.
#pragma once

#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/rules.hpp"
#include "backplan/standard.hpp"

namespace backplan {

// The ids, which never change:
//   form: form-plan form-weeks form-days form-minutes form-phase form-text unknown-work
//   slot: slot-blocks slot-hard slot-repeat slot-minutes slot-figures block-shape block-order
//         home-blocks avoid equipment
//   week: hard-days hard-days-in-a-row intervals-a-week intervals-in-a-row deadlifts-a-week
//         deadlift-spacing intervals-before-deadlift rest-days ramp-hard ramp-minutes
//   deload: deload-missing deload-needless deload-too-late deload-minutes deload-hard deload-days
//   taper: taper-minutes taper-deadlift day-before-test too-late
//   day: blocked-day fixed-work diagnostic diagnostic-easy-days night-shift after-field march-spacing
//        run-length
//   medical: medical-refused medical-profile medical-rehearsal
struct Violation {
  std::string rule;  // one of the ids above
  Date where;        // first day concerned
  std::string what;  // in words, with the numbers
};

// All violations, by date then rule; empty for a sound plan. `as_of` is the plan's first possible day.
[[nodiscard]] std::vector<Violation> check_plan(const Plan& plan, const Candidate& candidate,
                                                const Standard& standard, const Model& model,
                                                const Rules& rules);

}  // namespace backplan

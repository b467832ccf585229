// The independent checker: judges a finished plan against the training rules, by reading the plan
// and the candidate only. Of the planner's code it shares what rules.hpp says the figures of the rules mean
// (minutes of a session, days of the taper, the limit of hard days), which tests of its own hold.
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

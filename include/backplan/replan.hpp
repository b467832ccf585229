// From a plan and what was really done since to a new plan: what stays, what changes and why.
// docs/mathematics.md, "Planning again".
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/history.hpp"
#include "backplan/planner.hpp"
#include "backplan/progress.hpp"
#include "backplan/work_off.hpp"

namespace backplan {

// Days, today the first, that stay as they are where nothing surprises.
inline constexpr int kSteadyDays = 3;

// What changed a day of training, from what leaves no choice to what is a matter of points.
enum class ChangeCause {
  test_moved,
  calendar,  // blocked, or no longer
  pain,
  off,      // a profile, pregnancy, or work that the candidate avoids
  figures,  // the same work with another load, pace or number
  gap,      // a ramp after days without training
  phase,    // another phase of the week
  recovery,
  missed,
  yield,
  minutes,
  moved,  // the same work of the week on another day
  refilled
};
[[nodiscard]] std::string to_string(ChangeCause cause);  // "test_moved", ...

// A day of training that is not what the old plan had for it.
struct SessionChange {
  Date date;
  std::string before, after;  // "deadlift day 45 min, push-ups 12 min"; "rest"
  std::string figures;        // of the same blocks: "5×5 at 190 lb, was 5×5 at 180 lb"; else empty
  ChangeCause cause = ChangeCause::refilled;
  std::string why;
};

// Three weeks of results under the lower edge of what the old plan expected of an event.
struct Stall {
  std::string event;
  int readings = 0;
  Date since;
  std::vector<std::string> instead;  // other kinds of work that feed the event
};

struct Replan {
  bool unchanged = false;            // made from the same as the old plan, on the same day: it stays
  Plan ahead;                        // from today on, for the checker
  Candidate seen;                    // as the plan sees the candidate: for the checker too
  Plan plan;                         // the same with the days that are over as the old plan had them
  std::vector<FitReport> learnt;     // in the order of the standard; none without a journal
  std::vector<std::string> reasons;  // why the next days may change; none: they stay as they were
  std::vector<SessionChange> changes;
  std::vector<Stall> stalls;
  std::vector<PainStop> stops;
  std::vector<WorkOff> off;  // today, by pain and all else, with what may stand in
};

// The days that are over come before the weeks ahead, in the weeks of the new plan.
[[nodiscard]] Plan with_past(const Plan& ahead, const Plan& old);

// `history.plan` is the old plan. With no reason the week of today, and the week of the day after
// tomorrow, stay as the old plan has them.
[[nodiscard]] Replan replan(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                            const History& history, const PlanOptions& options = {});

}  // namespace backplan

// The last gate of every plan: the independent checker reads it before anything is written or printed.
#pragma once

#include <stdexcept>
#include <string>

#include "backplan/candidate.hpp"
#include "backplan/plan.hpp"
#include "backplan/planner.hpp"
#include "cli/workspace.hpp"

namespace backplan::cli {

// The planner has broken a rule of training: a bug of the program, never a fault of the input.
class BrokenPlan : public std::logic_error {
 public:
  explicit BrokenPlan(const std::string& what) : std::logic_error(what) {}
};

// The plan, as it was given. Throws BrokenPlan, naming the first broken rule, its week and the number of
// further ones, when the checker finds any. The plan must be written out (PlanOptions::write_out).
[[nodiscard]] const Plan& checked(const Plan& plan, const Candidate& candidate, const Knowledge& knowledge);

// Checks the plan, writes it to the folder's plan.json and prints it. `seen`: the candidate as the plan sees
// it. Exit 1 when it is not enough.
[[nodiscard]] int hand_over(const Plan& plan, const Candidate& seen, const Workspace& files,
                            const Session& session);

}  // namespace backplan::cli

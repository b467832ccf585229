// What stands beside a plan when it is shown: what became of its days, and work that is off by now.
#pragma once

#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/journal.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "report/show_text.hpp"

namespace backplan::cli {

struct Beside {
  report::DayNotes notes;
  std::vector<PainStop> stops;
};

// By what stands in the journal, and the candidate as he is now.
[[nodiscard]] Beside beside_of(const Plan& plan, const std::vector<Done>& entries, const Candidate& candidate,
                               const Model& model, const PainRules& pain, Date today);

}  // namespace backplan::cli

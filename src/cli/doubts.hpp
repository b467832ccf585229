// What is asked before it is believed: a load that fits what is known only in the other unit.
#pragma once

#include <optional>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/evidence.hpp"
#include "backplan/journal.hpp"

namespace backplan::cli {

// Keeps the better of what is known in an event.
void keep_best(std::vector<Evidence>& best, Evidence one);

// The best that is known in each event: from the candidate's results and what stands in the journal.
[[nodiscard]] std::vector<Evidence> best_known(const Candidate& candidate, const std::vector<Done>& standing,
                                               const Standard& standard, const Model& model);

// The question, with the field of the entry that it is about; none where the load fits.
[[nodiscard]] std::optional<Diagnostic> unit_question(const Done& done, const std::vector<Evidence>& best,
                                                      const Standard& standard, const Model& model);

}  // namespace backplan::cli

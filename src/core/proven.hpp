// What was really shown: the figures that loads and paces may not run ahead of.
#pragma once

#include <map>
#include <string>

#include "backplan/candidate.hpp"
#include "backplan/history.hpp"
#include "backplan/model.hpp"
#include "backplan/standard.hpp"

namespace backplan {

// By model event, in the event's unit: the latest result that was not guessed, of candidate.json and the
// journal together; or better, what training has shown since then within twelve weeks. A set proves its
// repetitions, not those left in reserve; a run proves its pace over the test's distance where it was as
// long.
[[nodiscard]] std::map<std::string, double> proven_results(const Candidate& candidate,
                                                           const Standard& standard, const Model& model,
                                                           const History& history, Date as_of);

}  // namespace backplan

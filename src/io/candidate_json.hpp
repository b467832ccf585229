// A candidate as candidate.json, so that read_candidate gives it back; alternate events that are chosen are
// in the standard and must be chosen anew.
#pragma once

#include <string>

#include "backplan/candidate.hpp"

namespace backplan::io {

[[nodiscard]] std::string write_candidate(const Candidate& candidate);

}  // namespace backplan::io

// A candidate as candidate.json, so that read_candidate gives it back.
#pragma once

#include <string>

#include "backplan/candidate.hpp"

namespace backplan::io {

[[nodiscard]] std::string write_candidate(const Candidate& candidate);

}  // namespace backplan::io

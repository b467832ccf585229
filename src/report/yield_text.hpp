// The screen of `backplan yield`.
#pragma once

#include <string>

#include "backplan/candidate.hpp"
#include "backplan/planner.hpp"
#include "report/names.hpp"

namespace backplan::report {

// By how much work the figures of an hour are told.
[[nodiscard]] std::string yield_basis();

[[nodiscard]] std::string yield_text(const YieldReport& yield, const Candidate& candidate, Date as_of,
                                     const Names& names);

}  // namespace backplan::report

// The screen of `backplan yield`.
#pragma once

#include <string>

#include "backplan/candidate.hpp"
#include "backplan/planner.hpp"
#include "report/names.hpp"

namespace backplan::report {

[[nodiscard]] std::string yield_text(const YieldReport& yield, const Candidate& candidate, Date as_of,
                                     const Names& names);

}  // namespace backplan::report

// What the benchmarks plan for: the two demonstration candidates, read once.
#pragma once

#include <string>

#include "backplan/candidate.hpp"
#include "backplan/planner.hpp"
#include "backplan/units.hpp"

namespace backplan::bench {

// The day on which the demonstration data begins: data/demo/README.md.
[[nodiscard]] Date demo_day();

// `who`: a folder of data/demo. Throws std::runtime_error with the faults if it cannot be read.
[[nodiscard]] const Candidate& demo_candidate(const std::string& who);

// The standard of both, and the shipped model and rules.
[[nodiscard]] Knowledge demo_knowledge();

}  // namespace backplan::bench

// What a bar and its plates make: loads that can be put on, and the plates for one side.
#pragma once

#include <optional>
#include <vector>

#include "backplan/candidate.hpp"

namespace backplan {

// Plates of one side that make up `load` with the bar, heaviest first; empty for the bare bar, none
// when these plates do not make the load. Pairs are two plates of equal weight.
[[nodiscard]] std::optional<std::vector<double>> plates_a_side(Pounds load, const Equipment& equipment);

}  // namespace backplan

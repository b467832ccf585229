// The standards, model and rules that are compiled into the program, read once.
#pragma once

#include <string>

#include "backplan/model.hpp"
#include "backplan/planner.hpp"
#include "backplan/rules.hpp"
#include "backplan/standard.hpp"

namespace backplan::testing {

// Throws std::runtime_error with the reader's faults where the data cannot be read.
[[nodiscard]] const Standard& shipped_standard(const std::string& id);
[[nodiscard]] const Model& shipped_model();
[[nodiscard]] const Rules& shipped_rules();

}  // namespace backplan::testing

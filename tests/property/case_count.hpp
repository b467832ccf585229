// How many invented candidates a property is tried on.
#pragma once

namespace backplan::testing {

// `usual`, or what BACKPLAN_PROPERTY_CASES in the environment says: fewer where the program runs slowly
// (sanitizers), more for a long search. Throws std::runtime_error unless that is a whole number from 1.
[[nodiscard]] int property_cases(int usual);

}  // namespace backplan::testing

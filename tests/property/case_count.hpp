// How many invented cases a property test goes through.
#pragma once

#include <cstdlib>
#include <string>

namespace backplan::testing {

// The environment's BACKPLAN_PROPERTY_CASES where it is a positive number, else `usual`.
[[nodiscard]] inline int case_count(int usual) {
  const char* const asked = std::getenv("BACKPLAN_PROPERTY_CASES");
  if (asked == nullptr) return usual;
  const int number = std::atoi(asked);
  return number > 0 ? number : usual;
}

}  // namespace backplan::testing

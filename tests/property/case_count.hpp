// How many invented candidates a property is tried on.
#pragma once

#include <cstdlib>

namespace backplan::testing {

// `usual`, or the number that BACKPLAN_PROPERTY_CASES in the environment gives: fewer where the
// program runs slowly (sanitizers), more for a long search.
[[nodiscard]] inline int property_cases(int usual) {
  const char* wanted =
      std::getenv("BACKPLAN_PROPERTY_CASES");  // NOLINT(concurrency-mt-unsafe): one thread here
  const int number = wanted == nullptr ? 0 : std::atoi(wanted);
  return number > 0 ? number : usual;
}

}  // namespace backplan::testing

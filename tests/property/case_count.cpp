#include "property/case_count.hpp"

#include <charconv>
#include <cstdlib>
#include <stdexcept>
#include <string>

namespace backplan::testing {

int property_cases(int usual) {
  const char* variable = std::getenv("BACKPLAN_PROPERTY_CASES");
  if (variable == nullptr) return usual;
  const std::string text = variable;
  int cases = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), cases);
  if (fault != std::errc{} || end != text.data() + text.size() || cases < 1) {
    throw std::runtime_error("BACKPLAN_PROPERTY_CASES is \"" + text + "\": expected a whole number from 1");
  }
  return cases;
}

}  // namespace backplan::testing

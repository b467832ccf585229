#include "io/estimate_text.hpp"

#include <cmath>

#include "backplan/score.hpp"

namespace backplan::io {
namespace {

// Steps in one unit of an estimate.
double steps_per_unit(Unit unit) {
  switch (unit) {
    case Unit::metre:
    case Unit::kilogram:
      return 10.0;
    case Unit::kilometre:
      return 100.0;
    case Unit::pound:
    case Unit::repetition:
    case Unit::second:
    case Unit::centimetre:
    case Unit::go:
      break;
  }
  return 1.0;
}

}  // namespace

std::string estimate_text(double result, Unit unit) {
  const double steps = steps_per_unit(unit);
  return format_result(std::floor(result * steps + 0.5) / steps, unit);
}

std::string estimate_text(double result, const Event& event) {
  if (decimals_of(event) == 0) return estimate_text(result, event.unit);
  const double steps = decimals_of(event) == 1 ? 10.0 : 100.0;
  return format_result(std::floor(result * steps + 0.5) / steps, event);
}

}  // namespace backplan::io

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

}  // namespace backplan::io

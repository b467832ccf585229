// An estimate as people write results: no finer than anyone measures.
#pragma once

#include <string>

#include "backplan/units.hpp"

namespace backplan::io {

// Rounded to the nearest pound, repetition, second, centimetre, tenth of a metre or kilogram,
// hundredth of a kilometre, then printed as a result ("15:32", "187 lb", "8.4 m").
[[nodiscard]] std::string estimate_text(double result, Unit unit);

}  // namespace backplan::io

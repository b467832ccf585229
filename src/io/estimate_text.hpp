// An estimate as people write results: no finer than anyone measures.
#pragma once

#include <string>

#include "backplan/standard.hpp"

namespace backplan::io {

// Rounded to the nearest pound, repetition, second, centimetre, tenth of a metre or kilogram,
// hundredth of a kilometre, then printed as a result ("15:32", "187 lb", "8.4 m").
[[nodiscard]] std::string estimate_text(double result, Unit unit);

// The same, but what is read to parts of a second or centimetre is told in them: coarser, it would not be the
// figure that the points beside it are for.
[[nodiscard]] std::string estimate_text(double result, const Event& event);

}  // namespace backplan::io

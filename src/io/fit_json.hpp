// What the log taught, for other programs.
#pragma once

#include <vector>

#include "backplan/progress.hpp"
#include "backplan/standard.hpp"
#include "io/json_write.hpp"

namespace backplan::io {

// By event: {"event", "measured", "now {result, text, low80, high80}", "rate", "headroom", "speed_ratio",
// ...}. Spreads are standard deviations; biases and headroom are in ln of the result; keys that do not apply
// are null.
[[nodiscard]] Json fit_json(const std::vector<FitReport>& reports, const Standard& standard);

}  // namespace backplan::io

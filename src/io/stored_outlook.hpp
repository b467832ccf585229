// The forecast of test day as plan.json and programme.json keep it; written by `outlook_json`.
#pragma once

#include "backplan/plan.hpp"
#include "io/json_text.hpp"

namespace backplan::io {

[[nodiscard]] Outlook outlook_from(const JsonCursor& object);

}  // namespace backplan::io

// What `backplan replan --json` prints. data/schema/replan.schema.json
#pragma once

#include <string>

#include "backplan/replan.hpp"

namespace backplan::io {

// `old`: the plan before. Ends with a line feed.
[[nodiscard]] std::string write_replan(const Replan& found, const Plan& old, const Standard& standard);

}  // namespace backplan::io

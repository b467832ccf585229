// How a plan goes on from the one before it in calendars: revisions are counted, days that are gone are
// remembered as withdrawn.
#pragma once

#include "backplan/plan.hpp"
#include "backplan/standard.hpp"

namespace backplan::cli {

// The new plan with the count of its revision: the old one's where nothing differs, else the next. Another
// candidate's plan has no successor.
[[nodiscard]] Plan revised(Plan plan, const Plan& old, const Standard& standard);

}  // namespace backplan::cli

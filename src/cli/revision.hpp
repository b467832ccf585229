// How a plan goes on from the one before it in calendars: revisions are counted, days that are gone are
// remembered as withdrawn.
#pragma once

#include <string>

#include "backplan/plan.hpp"
#include "backplan/programme.hpp"
#include "backplan/standard.hpp"

namespace backplan::cli {

// The new plan with the count of its revision: the old one's where nothing differs, else the next. Another
// candidate's plan has no successor.
[[nodiscard]] Plan revised(Plan plan, const Plan& old, const Standard& standard);

// The same for a squad's programme. `old` is the one that lies there, `old_bytes` as it lies there: where
// nothing differs, the revision stays.
[[nodiscard]] Programme revised(Programme programme, const Programme& old, const std::string& old_bytes,
                                const Standard& standard);

}  // namespace backplan::cli

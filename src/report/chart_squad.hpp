// Pictures of a squad.
#pragma once

#include "backplan/programme.hpp"
#include "report/chart.hpp"

namespace backplan::report {

// Everybody's chance to pass, the least first; full bars are likely enough, hollow ones are not.
[[nodiscard]] Picture chances_picture(const Programme& programme, const Standard& standard);

// Who is where from minute to minute: a line a person, the stations as numbers. With more people than can
// be told apart, a line a station with the people on it.
[[nodiscard]] Picture rotation_picture(const Programme& programme, const Morning& morning,
                                       const Names& names);

}  // namespace backplan::report

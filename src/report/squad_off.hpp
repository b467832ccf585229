// Work that pain has taken off since a programme was made, on everything that is printed of it.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "backplan/journal.hpp"
#include "backplan/programme.hpp"
#include "backplan/rules.hpp"
#include "report/names.hpp"

namespace backplan::report {

// The programme as it may be followed from `today` on: turns and extras that are off say so in the place of
// their prescription, and the person's notes say why. `stops`: the pain that holds, by the person's id.
[[nodiscard]] Programme with_pain(Programme programme,
                                  const std::map<std::string, std::vector<PainStop>>& stops,
                                  const Names& names, const PainRules& rules, Date today);

}  // namespace backplan::report

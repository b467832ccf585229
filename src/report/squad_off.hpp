// Work that is off since a programme was made, on everything that is printed of it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/journal.hpp"
#include "backplan/programme.hpp"
#include "backplan/rules.hpp"
#include "report/names.hpp"

namespace backplan::report {

// What is known of one person beside the programme.
struct SquadNews {
  std::vector<PainStop> stops;         // the pain that holds
  std::optional<Candidate> candidate;  // by the roster of today; none where it has no such row
};

// The programme as it may be followed from `today` on: turns and extras that are off on their day say so in
// the place of their prescription, and the person's notes say which pain it is. What may stand in is named
// only where the roster tells what else the person must not do.
[[nodiscard]] Programme as_followed(Programme programme, const std::map<std::string, SquadNews>& news,
                                    const Names& names, const PainRules& rules, Date today);

}  // namespace backplan::report

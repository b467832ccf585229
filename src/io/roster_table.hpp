// A roster with one more person, as bytes: what stands there stays as it is.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "backplan/journal.hpp"
#include "backplan/result.hpp"
#include "backplan/squad.hpp"
#include "backplan/standard.hpp"

namespace backplan::io {

// Adds the columns that the person needs and the table lacks. A fault where the id is taken.
[[nodiscard]] Result<std::string> with_member(std::string_view roster, const std::string& file,
                                              const Candidate& candidate, const Squad& squad,
                                              const Standard& standard);

// What a row has no place for of what still matters from `today` on, in words: spells, days, what is done
// now, the aim, targets of single events, from when and why work is avoided. Not the week, the kit and the
// fixed work, which are the squad's.
[[nodiscard]] std::vector<std::string> left_behind(const Candidate& candidate, const Squad& squad,
                                                   Date today);

// Results that the person's row has no room for (another date or setting), as entries of a journal.
[[nodiscard]] std::vector<Entry> older_results(const Candidate& candidate, const Standard& standard);

}  // namespace backplan::io

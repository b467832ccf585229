// What `backplan log` answers: what it understood, what that says, and what pain takes off.
#pragma once

#include <string>
#include <vector>

#include "backplan/evidence.hpp"
#include "backplan/journal.hpp"
#include "report/names.hpp"

namespace backplan::report {

// "deadlift day: 2×5 at 155 lb, 4 at 165 lb, 2 left; 45 min; effort 7".
[[nodiscard]] std::string deed_text(const Deed& deed, const Names& names);

// "reads as a three-repetition maximum of 178 lb, 8 in 10 between 172 lb and 184 lb"; a bound: "at least".
[[nodiscard]] std::string reading_text(const Evidence& reading, const Names& names);

// The line of an answer: what an entry says of an event; of work that says nothing, that it counts as
// training only, and what a reading of its event takes. Ends with a line end; "" for missed days and pain.
[[nodiscard]] std::string says_text(const Done& done, const Names& names);

// The ends of the middle 80 % of what a piece of evidence says, the worse one first, in the event's unit.
struct ReadingRange {
  double result = 0.0;
  double low = 0.0;
  double high = 0.0;
};
[[nodiscard]] ReadingRange range_of(const Evidence& reading, const Names& names);

enum class JournalOf { one, squad };

// Which work is off, since when and why, and whom to see: sentences; none without stops. What is gone
// is logged by another command for one of a squad.
[[nodiscard]] std::vector<std::string> stop_notices(const std::vector<PainStop>& stops, const Names& names,
                                                    JournalOf of = JournalOf::one);
// The same for a screen. Ends with a line end; "" without stops.
[[nodiscard]] std::string stops_text(const std::vector<PainStop>& stops, const Names& names,
                                     JournalOf of = JournalOf::one);

// Enough of an id to name it: 13 characters, more where another one of `ids` (sorted) begins alike.
[[nodiscard]] std::string short_id(const std::string& id, const std::vector<std::string>& ids);

// All that stands, latest last, with short ids and readings.
[[nodiscard]] std::string list_text(const std::vector<Done>& entries, const Names& names);

}  // namespace backplan::report

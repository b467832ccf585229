// The answers of `backplan log` that its parts share.
#pragma once

#include "backplan/evidence.hpp"
#include "backplan/journal.hpp"
#include "cli/journal_desk.hpp"
#include "io/json_write.hpp"

namespace backplan::cli {

// What a deed says of an event, as JSON; null where it says nothing.
[[nodiscard]] io::Json reading_json(const Done& done, const JournalDesk& desk);
[[nodiscard]] io::Json stops_json(const std::vector<PainStop>& stops);

// The faults of an entry with the options or words of the command line as their fields.
[[nodiscard]] Diagnostics with_options(Diagnostics faults);

}  // namespace backplan::cli

// `backplan log import`: a whole history at once, or a run from the file of a watch.
#pragma once

#include <string>

#include "cli/journal_desk.hpp"
#include "cli/log_words.hpp"

namespace backplan::cli {

// Adds what the file holds and the journal does not; all of it or nothing.
[[nodiscard]] int log_import(const JournalDesk& desk, const std::string& file, const LogOptions& options,
                             const Session& session);

}  // namespace backplan::cli

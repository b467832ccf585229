// A run out of the file of a watch as an entry of the journal.
#pragma once

#include <string>
#include <string_view>

#include "cli/journal_desk.hpp"
#include "cli/log_words.hpp"
#include "io/history_csv.hpp"
#include "io/json_write.hpp"

namespace backplan::cli {

struct ImportedRun {
  io::HistoryRow row;  // its id follows from the moment at which the run began
  std::string notes;   // which figures were taken: lines for people
  io::Json json;       // the same for programs
};

// `options` may name the work and set day, distance and time right. A distance that was only reckoned from
// positions is a fault until it is confirmed or given; so is a sport that is none on foot.
[[nodiscard]] Result<ImportedRun> read_run(std::string_view bytes, const std::string& file,
                                           const LogOptions& options, const JournalDesk& desk);

// Throws UsageError where an option was given that only goes with the file of a watch.
void require_table_options(const LogOptions& options);

}  // namespace backplan::cli

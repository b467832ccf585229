// A history of training as a table: a header of the journal's keys, one entry a row.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "io/journal_json.hpp"

namespace backplan::io {

// An entry with the place of its row.
struct HistoryRow {
  Entry entry;  // `id` follows from the content, so that the same row is the same entry
  int line = 0;
};

// Columns: date, and any of kind, work, minutes, sets, in_reserve, distance, time, hard, effort, event,
// value, setting, first, reason, where, level, night, limp, note. Empty cells are not given. Without a kind,
// a work, an event or a place of pain tells it. Sets are parted by "+": "5@155 lb + 4@165 lb". Every fault
// of every row, with line and column.
[[nodiscard]] Result<std::vector<HistoryRow>> read_history(std::string_view text, const std::string& file,
                                                           const EntryContext& context);

}  // namespace backplan::io

// journal.jsonl: every line that can be read, and a warning for every one that cannot.
#pragma once

#include <string>
#include <string_view>

#include "io/journal_json.hpp"

namespace backplan::io {

// A journal of more bytes than this is no journal of one folder: a squad's year has a tenth of it.
inline constexpr std::size_t kMostJournalBytes = 256U << 20U;

// Unreadable and torn lines, entries dated after today and imports that were not finished are left out,
// each with a warning. The only fault is a line of another format version: half a journal would mislead.
[[nodiscard]] Result<Journal> read_journal(std::string_view text, const std::string& file,
                                           const EntryContext& context);

}  // namespace backplan::io

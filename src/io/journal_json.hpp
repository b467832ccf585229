// One entry of a journal as a JSON object, and as words of a command line or cells of a table.
// docs/journal.md lists the keys; data/schema/journal-entry.schema.json is for other programs.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/journal.hpp"
#include "backplan/model.hpp"
#include "backplan/result.hpp"
#include "backplan/standard.hpp"
#include "io/json_text.hpp"
#include "io/json_write.hpp"

namespace backplan::io {

inline constexpr std::string_view kJournalFormat = "backplan-journal/1";

// Limits of an entry. They catch slips; none is a rule of training (judgement).
inline constexpr int kMostWorkMinutes = 720;  // a long march takes a day
inline constexpr int kMostRepetitions = 500;  // of one set
inline constexpr double kMostReserve = 20.0;  // repetitions left; nobody can count more
inline constexpr std::size_t kMostSets = 60;
inline constexpr std::size_t kMostNoteLength = 500;
inline constexpr std::size_t kMostReasonLength = 200;
inline constexpr std::size_t kMostPlaceLength = 60;

struct EntryContext {
  const Standard& standard;
  const Model& model;
  Date as_of;
};

// Reads one object strictly; each fault is recorded at its place. None if there was one. Entries of a
// later day than today are read: the callers differ about them.
[[nodiscard]] std::optional<Entry> read_entry(const JsonCursor& root, const EntryContext& context);

// The same values give the same bytes; read_entry gives the entry back.
[[nodiscard]] Json entry_json(const Entry& entry);
// What stands, for `log --list --json`.
[[nodiscard]] Json done_json(const Done& done);
// A line of the file, with its end.
[[nodiscard]] std::string entry_line(const Entry& entry);
// The first line of a new journal.
[[nodiscard]] std::string journal_head();
// The line that closes an import of so many entries.
[[nodiscard]] std::string closing_line(const std::string& batch, std::size_t count);

// The words of an entry before they are read: texts by the key of the journal ("minutes": "45"). Sets
// are written REPS@LOAD or REPS; `in_reserve` holds one figure for all sets or one for each.
struct EntryWords {
  std::map<std::string, std::string> fields;
  std::vector<std::string> sets;
  std::vector<std::string> in_reserve;
};

// Reads them by the rules of read_entry. The faults have no place; `field` is the key ("sets").
[[nodiscard]] Result<Entry> read_entry_words(const EntryWords& words, const EntryContext& context);

// A UUID of version 8 (RFC 9562) out of these bytes: the same bytes give the same id.
[[nodiscard]] std::string id_of_content(std::string_view bytes);
// Whether this is a UUID in lower case.
[[nodiscard]] bool is_id(std::string_view text);

}  // namespace backplan::io

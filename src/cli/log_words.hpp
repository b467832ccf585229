// The words after `backplan log`, before they are read.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "io/journal_json.hpp"

namespace backplan::cli {

struct LogOptions {
  std::vector<std::string> words;             // "deadlift"; "result", "HRP", "31"; ...
  std::map<std::string, std::string> values;  // of the options, by the key of the journal
  std::vector<std::string> flags;             // keys of those that were given: "hard", "first", ...
  std::vector<std::string> sets;
  std::vector<std::string> in_reserve;
  bool list = false;
  bool dry_run = false;
  bool sure = false;  // what is doubted is right: a load in an odd unit, a reckoned distance
};

// What is to be done: an entry with `kind` and, for a correction, the id or its beginning.
struct LogOrder {
  enum class Kind { entry, voids, replaces, import, list };
  Kind kind = Kind::entry;
  std::string target;    // of a correction: as typed; of an import: the file
  io::EntryWords words;  // of an entry and a replacement
};

// Throws UsageError where words or options do not go together.
[[nodiscard]] LogOrder read_order(const LogOptions& options, const std::vector<std::string>& work_words);

// The option that carries a key of the journal: "--in-reserve"; words have names in capitals: "VALUE".
[[nodiscard]] std::string option_of(const std::string& key);

}  // namespace backplan::cli

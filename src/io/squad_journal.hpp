// A squad's journal.jsonl: lines as a single candidate's, each with a further key "who", the id of a member.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/journal.hpp"
#include "backplan/result.hpp"
#include "backplan/squad.hpp"
#include "io/journal_json.hpp"

namespace backplan::io {

struct SquadJournal {
  std::map<std::string, Journal> by_id;  // of the members who have entries
  Diagnostics warnings;                  // each once, by line
};

// Every member's part, read as a journal of its own; line numbers are those of the common file. Lines of
// people who are not in the squad any more are kept and do not count.
[[nodiscard]] Result<SquadJournal> read_squad_journal(std::string_view text, const std::string& file,
                                                      const std::vector<Member>& members,
                                                      const EntryContext& context);

// A line of the squad's journal, with its end.
[[nodiscard]] std::string squad_line(const Entry& entry, const std::string& who);

// A table of results, one person a row or one entry a row: `id`, `date`, `setting`, one column an event, and
// the columns of `log import`. All faults at once, by line and column.
struct SquadEntry {
  std::string who;
  Entry entry;
  int line = 0, column = 0;  // of the cell that it is about
};
[[nodiscard]] Result<std::vector<SquadEntry>> read_squad_results(std::string_view text,
                                                                 const std::string& file,
                                                                 const std::vector<Member>& members,
                                                                 const EntryContext& context);

}  // namespace backplan::io

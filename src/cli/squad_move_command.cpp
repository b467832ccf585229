// One person's folder: split out for a move to another unit, and taken in.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <ostream>
#include <vector>

#include "cli/commands.hpp"
#include "cli/journal_desk.hpp"
#include "cli/squad_files.hpp"
#include "io/candidate_json.hpp"
#include "io/journal_reader.hpp"
#include "io/roster_table.hpp"
#include "io/squad_reader.hpp"
#include "report/words.hpp"
#include "store/failures.hpp"
#include "store/files.hpp"
#include "store/journal_file.hpp"

namespace backplan::cli {
namespace {

// An id as the name of a folder: nothing that leaves the working folder or hides.
std::string folder_name(const std::string& id) {
  std::string name;
  for (const char c : id) {
    const bool plain =
        (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
    name += plain ? c : '_';
  }
  return name;
}

std::string answer_of(const Session& session, const std::string& id, const std::string& folder,
                      std::size_t entries, const std::string& next) {
  if (!session.json())
    return fmt::format("{}: {} and {}; {}\n", id, folder,
                       report::count(entries, "journal entry", "journal entries"), next);
  io::Json json;
  json["id"] = id;
  json["folder"] = folder;
  json["entries"] = entries;
  return io::pretty(json);
}

// What the journal of a person's folder says, after the results that a row of the roster has no room for.
Result<std::vector<Entry>> entries_of(const store::Path& folder, const Candidate& candidate,
                                      const SquadFiles& squad, const Session& session) {
  std::vector<Entry> entries = io::older_results(candidate, squad.standard);
  const std::string name = (folder / "journal.jsonl").string();
  if (!store::is_there(name)) return entries;
  const auto lines = store::read_file(name, io::kMostJournalBytes);
  if (!lines.ok()) return lines.faults();
  const auto journal = io::read_journal(lines.value(), name, squad.context(session.as_of));
  if (!journal.ok()) return journal.faults();
  tell_warnings(journal.value(), effective(journal.value()), session);
  entries.insert(entries.end(), journal.value().entries.begin(), journal.value().entries.end());
  return entries;
}

// What a candidate.json has no place for, and what it lacks.
void warn_of_losses(const Member& member, const Session& session) {
  if (member.display != member.candidate.id) {
    tell_warning(
        fmt::format("the display name, {}, stays behind: candidate.json has the id only", member.display),
        "write it into the column display of the roster that takes the person in", session.streams.err);
  }
  if (member.candidate.results.empty()) {
    tell_warning("this person has no result in the roster; `backplan plan` and `squad take` ask for one",
                 "add one to \"results\" in the new candidate.json, such as {\"date\": \"2026-12-01\", "
                 "\"event\": \"2MR\", \"value\": \"16:40\", \"setting\": \"practice\"}",
                 session.streams.err);
  }
}

// As one batch: all of them or none.
void append(std::vector<Entry> entries, const std::string& who, const Session& session) {
  if (entries.empty()) return;
  const std::string batch = session.environment.new_id ? session.environment.new_id() : store::new_id();
  std::string lines;
  for (Entry& entry : entries) {
    entry.batch = batch;
    lines += io::squad_line(entry, who);
  }
  lines += io::closing_line(batch, entries.size());
  store::append_to_journal(
      {session.file("journal.jsonl").string(), io::journal_head(), [&] { return lines; }});
}

}  // namespace

int squad_extract(const Session& session, const SquadOptions& options) {
  const auto files = read_squad_files(session, io::TestOver::allowed);
  if (!files.ok()) return refuse(files.faults(), session);
  const Member& member = files.value()->member(options.word);
  const auto past = read_squad_past(session, *files.value());
  if (!past.ok()) return refuse(past.faults(), session);
  tell_warnings(past.value(), session);
  const store::Path folder =
      options.folder.empty() ? session.file(folder_name(options.word)) : store::Path(options.folder);
  if (store::is_file(folder / "candidate.json"))
    throw store::CannotCreate(fmt::format("{} is there already", (folder / "candidate.json").string()),
                              "name another folder");
  const auto own = past.value().journal.by_id.find(member.candidate.id);
  warn_of_losses(member, session);
  std::size_t entries = 0;
  std::string lines = io::journal_head();
  if (own != past.value().journal.by_id.end()) {
    for (Entry entry : own->second.entries) {
      entry.batch.clear();
      lines += io::entry_line(entry);
      ++entries;
    }
  }
  const std::string answer =
      answer_of(session, member.candidate.id, folder.string(), entries,
                "take the line out of roster.csv when the person has left, then `backplan squad replan`");
  const std::string candidate = io::write_candidate(member.candidate);
  store::make_folders(folder);
  if (own != past.value().journal.by_id.end()) store::write_atomically(folder / "journal.jsonl", lines);
  // The candidate last: a folder with one is whole.
  store::write_atomically(folder / "candidate.json", candidate);
  answer_change(answer, folder.string() + " is written", session);
  return kExitDone;
}

int squad_take(const Session& session, const SquadOptions& options) {
  const auto files = read_squad_files(session);
  if (!files.ok()) return refuse(files.faults(), session);
  const SquadFiles& squad = *files.value();
  const store::Path folder(options.word);
  const std::string name = (folder / "candidate.json").string();
  const auto text = store::read_file(name, io::kMostJsonBytes, "a person's folder has a candidate.json");
  if (!text.ok()) return refuse(text.faults(), session);
  const auto candidate = io::read_candidate(text.value(), name, squad.standard, squad.model, session.as_of,
                                            io::TestOver::allowed);
  if (!candidate.ok()) return refuse(candidate.faults(), session);
  const auto entries = entries_of(folder, candidate.value(), squad, session);
  if (!entries.ok()) return refuse(entries.faults(), session);
  const std::string roster_name = session.file("roster.csv").string();
  const auto roster = store::read_file(roster_name, kMostRosterBytes);
  if (!roster.ok()) return refuse(roster.faults(), session);
  const auto longer =
      io::with_member(roster.value(), roster_name, candidate.value(), squad.squad, squad.standard);
  if (!longer.ok()) return refuse(longer.faults(), session);
  const std::vector<std::string> left = io::left_behind(candidate.value(), squad.squad, session.as_of);
  if (!left.empty()) {
    tell_warning(
        fmt::format("not taken, because a row of the roster has no place for it: {}", fmt::join(left, "; ")),
        "put days and spells that all share into squad.json; the rest stays in the person's candidate.json",
        session.streams.err);
  }
  const std::string answer =
      answer_of(session, candidate.value().id, roster_name, entries.value().size(),
                "week, kit and fixed work are the squad's now; `backplan squad replan` takes the person in");
  append(entries.value(), candidate.value().id, session);
  store::write_atomically(roster_name, longer.value());
  answer_change(answer, "`backplan squad check` reads the roster", session);
  return kExitDone;
}

}  // namespace backplan::cli

// What many people did: one table, one write, all of it or none.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <ostream>
#include <set>

#include "cli/commands.hpp"
#include "cli/doubts.hpp"
#include "cli/journal_desk.hpp"
#include "cli/log_answer.hpp"
#include "cli/squad_files.hpp"
#include "io/journal_reader.hpp"
#include "io/squad_journal.hpp"
#include "report/log_text.hpp"
#include "report/words.hpp"
#include "store/files.hpp"
#include "store/journal_file.hpp"

namespace backplan::cli {
namespace {

using Rows = std::vector<io::SquadEntry>;

// The rows that the journal does not have yet: an id stands for its content.
Rows new_rows(const Rows& rows, const io::SquadJournal& journal) {
  std::set<std::string> known;
  for (const auto& [who, own] : journal.by_id) {
    for (const Entry& entry : own.entries) known.insert(entry.id);
  }
  Rows fresh;
  for (const io::SquadEntry& row : rows) {
    if (known.count(row.entry.id) == 0) fresh.push_back(row);
  }
  return fresh;
}

// Loads that fit the person only in the other unit, asked about row by row in the order of the days.
Diagnostics unit_questions(const Rows& fresh, const io::SquadJournal& journal, const SquadFiles& files,
                           const std::string& file) {
  Rows by_day = fresh;
  std::stable_sort(by_day.begin(), by_day.end(), [](const io::SquadEntry& a, const io::SquadEntry& b) {
    return a.entry.date < b.entry.date;
  });
  std::map<std::string, std::vector<Evidence>> best_of;
  for (const Member& member : files.squad.members) {
    const auto own = journal.by_id.find(member.candidate.id);
    const Standing standing = own == journal.by_id.end() ? Standing{} : effective(own->second);
    best_of[member.candidate.id] =
        best_known(member.candidate, standing.entries, files.standard, files.model);
  }
  Diagnostics questions;
  for (const io::SquadEntry& row : by_day) {
    std::vector<Evidence>& best = best_of[row.who];
    const Done done = as_done(row.entry);
    if (auto question = unit_question(done, best, files.standard, files.model)) {
      question->file = file;
      question->line = row.line;
      question->column = row.column;
      questions.push_back(*std::move(question));
    } else if (auto reading = evidence_of(done, files.standard, files.model)) {
      keep_best(best, *std::move(reading));
    }
  }
  std::stable_sort(questions.begin(), questions.end(),
                   [](const Diagnostic& a, const Diagnostic& b) { return a.line < b.line; });
  return questions;
}

std::string lines_of(const Rows& fresh, const std::string& batch) {
  std::string lines;
  for (const io::SquadEntry& row : fresh) {
    Entry entry = row.entry;
    entry.batch = batch;
    lines += io::squad_line(entry, row.who);
  }
  return lines + io::closing_line(batch, fresh.size());
}

// What pain takes off of everybody for whom the table has some, as `log` answers after every one.
std::map<std::string, std::vector<PainStop>> stops_of(const Rows& fresh, const io::SquadJournal& before,
                                                      const SquadFiles& files, Date as_of) {
  std::vector<std::string> work;
  for (const WorkKind& kind : files.model.work) work.push_back(kind.id);
  std::map<std::string, std::vector<PainStop>> out;
  for (const io::SquadEntry& row : fresh) {
    if (!std::holds_alternative<Pain>(as_done(row.entry).what) || out.count(row.who) > 0) continue;
    const auto own = before.by_id.find(row.who);
    Journal journal = own == before.by_id.end() ? Journal{} : own->second;
    for (const io::SquadEntry& other : fresh) {
      if (other.who == row.who) journal.entries.push_back(other.entry);
    }
    out[row.who] = pain_stops(effective(journal).entries, files.rules.pain, work, as_of);
  }
  return out;
}

void answer_pain(const std::map<std::string, std::vector<PainStop>>& stops, const SquadFiles& files,
                 std::ostream& out) {
  for (const auto& [who, own] : stops) {
    const std::string name = report::printable(who);
    if (own.empty()) {
      out << fmt::format("{}: no work is off because of pain\n", name);
    } else {
      out << fmt::format("{}:\n{}", name,
                         report::stops_text(own, {files.standard, files.model}, report::JournalOf::squad));
    }
  }
}

void answer(const Rows& rows, const Rows& fresh, const std::map<std::string, std::vector<PainStop>>& stops,
            const SquadFiles& files, const Session& session, bool dry_run) {
  std::set<std::string> people;
  for (const io::SquadEntry& row : fresh) people.insert(row.who);
  if (session.json()) {
    io::Json json;
    json["rows"] = rows.size();
    json["added"] = fresh.size();
    json["people"] = people.size();
    json["dry_run"] = dry_run;
    json["pain_stops"] = io::Json::object();
    for (const auto& [who, own] : stops) json["pain_stops"][who] = stops_json(own);
    session.streams.out << io::pretty(json);
    return;
  }
  session.streams.out << fmt::format("{} {} of {} entries, for {} {}", dry_run ? "would add" : "added",
                                     fresh.size(), rows.size(), people.size(),
                                     people.size() == 1 ? "person" : "people");
  const std::size_t there = rows.size() - fresh.size();
  session.streams.out << (there > 0 ? fmt::format("; {} {} there already\n", there, there == 1 ? "is" : "are")
                                    : "\n");
  answer_pain(stops, files, session.streams.out);
  if (!dry_run && !fresh.empty()) session.streams.out << "`backplan squad replan` plans from it\n";
}

}  // namespace

int squad_log(const Session& session, const SquadOptions& options) {
  const auto files = read_squad_files(session, io::TestOver::allowed);
  if (!files.ok()) return refuse(files.faults(), session);
  const auto text = store::read_file(options.word, io::kMostJournalBytes, "check the name of the file");
  if (!text.ok()) return refuse(text.faults(), session);
  const auto rows = io::read_squad_results(text.value(), options.word, files.value()->squad.members,
                                           files.value()->context(session.as_of));
  if (!rows.ok()) return refuse(rows.faults(), session);
  const std::string batch = session.environment.new_id ? session.environment.new_id() : store::new_id();
  auto before = read_squad_past(session, *files.value());
  if (!before.ok()) return refuse(before.faults(), session);
  Rows fresh = new_rows(rows.value(), before.value());
  Diagnostics faults;
  if (!options.sure) faults = unit_questions(fresh, before.value(), *files.value(), options.word);
  if (!faults.empty()) return refuse(faults, session);
  if (!options.dry_run && !fresh.empty()) {
    store::append_to_journal(
        {session.file("journal.jsonl").string(), io::journal_head(), [&]() -> std::string {
           // Under the lock, where the journal may have grown.
           before = read_squad_past(session, *files.value());
           if (!before.ok()) {
             faults = before.faults();
             return "";
           }
           fresh = new_rows(rows.value(), before.value());
           return fresh.empty() ? std::string() : lines_of(fresh, batch);
         }});
  }
  if (!faults.empty()) return refuse(faults, session);
  answer(rows.value(), fresh, stops_of(fresh, before.value(), *files.value(), session.as_of), *files.value(),
         session, options.dry_run);
  return kExitDone;
}

}  // namespace backplan::cli

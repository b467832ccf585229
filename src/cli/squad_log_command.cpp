// What many people did: one table, one write, all of it or none.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <ostream>
#include <set>

#include "backplan/work_off.hpp"
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
Diagnostics unit_questions(const Rows& fresh, const SquadPast& past, const SquadFiles& files,
                           const std::string& file) {
  Rows by_day = fresh;
  std::stable_sort(by_day.begin(), by_day.end(), [](const io::SquadEntry& a, const io::SquadEntry& b) {
    return a.entry.date < b.entry.date;
  });
  std::map<std::string, std::vector<Evidence>> best_of;
  for (const Member& member : files.squad.members) {
    best_of[member.candidate.id] =
        best_known(member.candidate, past.of(member.candidate.id).entries, files.standard, files.model);
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
  sort_by_place(questions);
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
  std::map<std::string, std::vector<PainStop>> out;
  for (const io::SquadEntry& row : fresh) {
    if (!std::holds_alternative<Pain>(as_done(row.entry).what) || out.count(row.who) > 0) continue;
    const auto own = before.by_id.find(row.who);
    Journal journal = own == before.by_id.end() ? Journal{} : own->second;
    for (const io::SquadEntry& other : fresh) {
      if (other.who == row.who) journal.entries.push_back(other.entry);
    }
    out[row.who] = pain_of(effective(journal).entries, files.model, files.rules.pain, as_of);
  }
  return out;
}

std::string pain_text(const std::map<std::string, std::vector<PainStop>>& stops, const SquadFiles& files) {
  std::string text;
  for (const auto& [who, own] : stops) {
    const std::string name = report::printable(who);
    text +=
        own.empty()
            ? fmt::format("{}: no work is off because of pain\n", name)
            : fmt::format("{}:\n{}", name,
                          report::stops_text(own, {files.standard, files.model}, report::JournalOf::squad));
  }
  return text;
}

std::string answer_of(const Rows& rows, const Rows& fresh,
                      const std::map<std::string, std::vector<PainStop>>& stops, const SquadFiles& files,
                      bool as_json, bool dry_run) {
  std::set<std::string> people;
  for (const io::SquadEntry& row : fresh) people.insert(row.who);
  if (as_json) {
    io::Json json;
    json["rows"] = rows.size();
    json["added"] = fresh.size();
    json["people"] = people.size();
    json["dry_run"] = dry_run;
    json["pain_stops"] = io::Json::object();
    for (const auto& [who, own] : stops) json["pain_stops"][who] = stops_json(own);
    return io::pretty(json);
  }
  std::string text = fmt::format("{} {} of {}, for {}", dry_run ? "would add" : "added", fresh.size(),
                                 report::count(rows.size(), "entry", "entries"),
                                 report::count(people.size(), "person", "people"));
  const std::size_t there = rows.size() - fresh.size();
  text += there > 0 ? fmt::format("; {} {} there already\n", there, there == 1 ? "is" : "are") : "\n";
  text += pain_text(stops, files);
  if (!dry_run && !fresh.empty()) text += "`backplan squad replan` plans from it\n";
  return text;
}

// One run of the command; what is written and answered is made anew under the lock, where the journal may
// have grown.
struct SquadLogging {
  const SquadFiles& files;
  const Rows& rows;
  const SquadOptions& options;
  const Session& session;
  std::string batch;
  SquadPast before;
  std::string answer;
};

// "" where nothing is new.
Result<std::string> make_lines(SquadLogging& logging) {
  auto past = read_squad_past(logging.session, logging.files);
  if (!past.ok()) return past.faults();
  logging.before = std::move(past).value();
  const Rows fresh = new_rows(logging.rows, logging.before.journal);
  if (!logging.options.sure) {
    Diagnostics questions = unit_questions(fresh, logging.before, logging.files, logging.options.word);
    if (!questions.empty()) return questions;
  }
  const auto stops = stops_of(fresh, logging.before.journal, logging.files, logging.session.as_of);
  logging.answer =
      answer_of(logging.rows, fresh, stops, logging.files, logging.session.json(), logging.options.dry_run);
  return fresh.empty() ? std::string() : lines_of(fresh, logging.batch);
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
  SquadLogging logging{*files.value(), rows.value(), options, session, batch, {}, {}};
  const auto early = make_lines(logging);
  if (!early.ok()) return refuse(early.faults(), session);
  const bool writes = !options.dry_run && !early.value().empty();
  Diagnostics faults;
  if (writes) {
    store::append_to_journal(
        {session.file("journal.jsonl").string(), io::journal_head(), [&]() -> std::string {
           const auto lines = make_lines(logging);
           collect(lines, faults);
           return lines.ok() ? lines.value() : std::string();
         }});
  }
  if (!faults.empty()) return refuse(faults, session);
  tell_warnings(logging.before, session);
  if (writes) {
    answer_change(logging.answer, "the same table again adds nothing twice", session);
  } else {
    session.streams.out << logging.answer;
  }
  return kExitDone;
}

}  // namespace backplan::cli

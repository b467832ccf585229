#include "cli/log_import.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>
#include <set>

#include "cli/log_answer.hpp"
#include "cli/log_run.hpp"
#include "io/history_csv.hpp"
#include "io/value_text.hpp"
#include "io/watch_file.hpp"
#include "report/log_text.hpp"
#include "report/words.hpp"
#include "store/files.hpp"

namespace backplan::cli {
namespace {

constexpr std::size_t kMostShown = 20;  // of the new entries; --json has all

using Rows = std::vector<io::HistoryRow>;

// The rows that the journal does not have yet: an id stands for its content.
Rows new_rows(const Rows& rows, const Journal& journal) {
  std::set<std::string> known;
  for (const Entry& entry : journal.entries) known.insert(entry.id);
  Rows fresh;
  std::copy_if(rows.begin(), rows.end(), std::back_inserter(fresh),
               [&known](const io::HistoryRow& row) { return known.count(row.entry.id) == 0; });
  return fresh;
}

// Days and units, judged row by row in the order of the days, so that a history may grow.
Diagnostics faults_of(const Rows& fresh, const std::string& file, const JournalDesk& desk,
                      const std::vector<Done>& standing, JournalDesk::Doubts doubts) {
  Diagnostics faults;
  auto best = desk.best_known(standing);
  Rows by_day = fresh;
  std::stable_sort(by_day.begin(), by_day.end(), [](const io::HistoryRow& a, const io::HistoryRow& b) {
    return a.entry.date < b.entry.date;
  });
  for (const io::HistoryRow& row : by_day) {
    const Done done = as_done(row.entry);
    Diagnostics own = desk.faults_of(done, best, doubts);
    for (Diagnostic& fault : own) {
      fault.file = file;
      fault.line = row.line;
      fault.column = row.line > 0 ? 1 : 0;
      faults.push_back(std::move(fault));
    }
    auto reading = evidence_of(done, desk.files().standard, desk.files().model);
    if (own.empty() && reading) keep_best(best, *std::move(reading));
  }
  sort_by_place(faults);
  return faults;
}

// One write: the entries with the id of their import, and the line that closes it.
std::string lines_of(const Rows& fresh, const std::string& batch) {
  std::string lines;
  for (const io::HistoryRow& row : fresh) {
    Entry entry = row.entry;
    entry.batch = batch;
    lines += io::entry_line(entry);
  }
  return lines + io::closing_line(batch, fresh.size());
}

std::string answer_text(const Rows& rows, const Rows& fresh, const JournalDesk& desk, bool dry_run) {
  const int added = static_cast<int>(fresh.size());
  const int known = static_cast<int>(rows.size()) - added;
  std::string text;
  for (std::size_t i = 0; i < fresh.size() && i < kMostShown; ++i) {
    const Done done = as_done(fresh[i].entry);
    text += report::wrap(
        fmt::format("{}, {}", io::say_date(done.date), report::deed_text(done.what, desk.names())),
        report::kPageWidth, "    ", "  ");
  }
  if (fresh.size() > kMostShown) text += fmt::format("  and {} more\n", fresh.size() - kMostShown);
  text += fmt::format("{} {} of {}", dry_run ? "would add" : "added", added,
                      report::count(rows.size(), "entry", "entries"));
  return text + (known > 0 ? fmt::format("; {} {} there already\n", known, known == 1 ? "is" : "are") : "\n");
}

bool has_pain(const Rows& fresh) {
  return std::any_of(fresh.begin(), fresh.end(), [](const io::HistoryRow& row) {
    return std::holds_alternative<Pain>(as_done(row.entry).what);
  });
}

// What pain takes off once these rows are in the journal; nothing where none of them is about pain.
std::vector<PainStop> stops_of(const Rows& fresh, Journal journal, const JournalDesk& desk) {
  if (!has_pain(fresh)) return {};
  for (const io::HistoryRow& row : fresh) journal.entries.push_back(row.entry);
  return desk.pain_by(effective(journal).entries);
}

std::string answer_of(const Rows& rows, const Rows& fresh, const std::vector<PainStop>& stops,
                      const ImportedRun* run, const JournalDesk& desk, bool as_json, bool dry_run) {
  if (!as_json) {
    return answer_text(rows, fresh, desk, dry_run) + report::stops_text(stops, desk.names()) +
           (run != nullptr && !fresh.empty() ? run->notes : "");
  }
  io::Json json;
  json["rows"] = rows.size();
  json["added"] = fresh.size();
  json["dry_run"] = dry_run;
  json["entries"] = io::Json::array();
  for (const io::HistoryRow& row : fresh) {
    io::Json one = io::done_json(as_done(row.entry));
    one["reads_as"] = reading_json(as_done(row.entry), desk);
    json["entries"].push_back(std::move(one));
  }
  if (has_pain(fresh)) json["pain_stops"] = stops_json(stops);
  if (run != nullptr) json["run"] = run->json;
  return io::pretty(json);
}

// Adds the rows that are new, all of them or none, and answers. `run`: what they were read from, if not a
// table.
int add(const Rows& rows, const ImportedRun* run, const std::string& file, const JournalDesk& desk,
        const LogOptions& options, const Session& session) {
  const auto doubts = options.sure ? JournalDesk::Doubts::accepted : JournalDesk::Doubts::asked;
  const std::string batch = desk.new_id();
  Journal before;
  std::string answer;  // whole before anything is written
  bool adds = false;
  const auto make = [&](const Journal& journal) -> Result<std::string> {
    before = journal;
    const Rows fresh = new_rows(rows, journal);
    Diagnostics faults = faults_of(fresh, file, desk, effective(journal).entries, doubts);
    if (!faults.empty()) return faults;
    answer =
        answer_of(rows, fresh, stops_of(fresh, journal, desk), run, desk, session.json(), options.dry_run);
    adds = !fresh.empty() && !options.dry_run;
    return fresh.empty() ? std::string() : lines_of(fresh, batch);
  };
  Diagnostics faults;
  if (options.dry_run) {
    const auto journal = desk.read();
    const auto lines = journal.ok() ? make(journal.value()) : Result<std::string>(journal.faults());
    if (!lines.ok()) faults = lines.faults();
  } else {
    faults = desk.append(make);
  }
  if (!faults.empty()) return refuse(faults, session);
  tell_warnings(before, effective(before), session);
  if (adds) {
    answer_change(answer, "`backplan log --list` shows what stands", session);
  } else {
    session.streams.out << answer;
  }
  return kExitDone;
}

}  // namespace

int log_import(const JournalDesk& desk, const std::string& file, const LogOptions& options,
               const Session& session) {
  const auto text = store::read_file(file, io::kMostWatchBytes, "check the name of the file");
  if (!text.ok()) return refuse(text.faults(), session);
  if (io::is_watch_file(text.value(), file)) {
    const auto run = read_run(text.value(), file, options, desk);
    if (!run.ok()) return refuse(run.faults(), session);
    return add({run.value().row}, &run.value(), file, desk, options, session);
  }
  require_table_options(options);
  const auto rows = io::read_history(text.value(), file, desk.context());
  if (!rows.ok()) return refuse(rows.faults(), session);
  return add(rows.value(), nullptr, file, desk, options, session);
}

}  // namespace backplan::cli

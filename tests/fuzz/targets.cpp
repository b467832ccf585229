#include "fuzz/targets.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "io/fit_reader.hpp"
#include "io/history_csv.hpp"
#include "io/journal_json.hpp"
#include "io/journal_reader.hpp"
#include "io/plan_json.hpp"
#include "io/programme_json.hpp"
#include "io/readers.hpp"
#include "io/squad_journal.hpp"
#include "io/squad_reader.hpp"
#include "io/table_import.hpp"
#include "io/value_text.hpp"
#include "io/watch_file.hpp"

namespace backplan::fuzz {
namespace {

void require(bool holds, const char* what) {
  if (!holds) throw std::logic_error(what);
}

Standard shipped_standard(const std::string& id) {
  std::vector<io::DataFile> folder;
  const std::string prefix = "standards/" + id + "/";
  for (const io::DataFile& file : io::embedded_data()) {
    if (file.path.rfind(prefix, 0) == 0) folder.push_back({file.path.substr(prefix.size()), file.text});
  }
  return io::read_standard(folder).value();
}

// Read once: a fuzzer comes here thousands of times a second.
const Standard& standard() {
  static const Standard army = shipped_standard("us-army-aft");
  return army;
}
const Model& model() {
  static const Model all = io::read_model(io::embedded_data()).value();
  return all;
}
Date today() { return io::read_date("2026-12-01").value.value(); }
const io::EntryContext& context() {
  static const io::EntryContext all{standard(), model(), today()};
  return all;
}

// A refusal has a reason, and no place before the first line.
bool judge(const Diagnostics& faults) {
  require(!faults.empty(), "a refusal without a fault");
  for (const Diagnostic& fault : faults) {
    require(!fault.message.empty(), "a fault without a message");
    require(fault.line >= 0 && fault.column >= 0, "a fault before the first line");
    require(!to_string(fault).empty(), "a fault that cannot be told");
  }
  return false;
}

bool candidate(std::string_view bytes) {
  const auto id = io::peek_standard(bytes, "candidate.json");
  if (!id.ok()) judge(id.faults());
  const auto read = io::read_candidate(bytes, "candidate.json", standard(), model(), today());
  return read.ok() || judge(read.faults());
}

// An entry comes back from its line, and its line from the entry.
void judge_round_trip(const Entry& entry) {
  const std::string line = io::entry_line(entry);
  const auto again = io::read_journal(io::journal_head() + line, "journal.jsonl", context());
  require(again.ok(), "a written entry makes a journal that is refused");
  if (!entry.batch.empty()) return;  // alone it is an import without its end, and left out
  require(again.value().entries.size() == 1, "a written entry is not read");
  require(same_content(again.value().entries.front(), entry), "an entry is read as another one");
  require(io::entry_line(again.value().entries.front()) == line, "a line is not written the same again");
}

bool journal(std::string_view bytes) {
  const auto read = io::read_journal(bytes, "journal.jsonl", context());
  if (!read.ok()) return judge(read.faults());
  for (const Entry& entry : read.value().entries) judge_round_trip(entry);
  for (const Diagnostic& fault : effective(read.value()).faults)
    require(!fault.message.empty(), "an empty warning");
  return true;
}

bool plan(std::string_view bytes) {
  const auto read = io::read_plan(bytes, "plan.json");
  if (!read.ok()) return judge(read.faults());
  const std::string once = io::write_plan(read.value(), standard(), "0");
  const auto again = io::read_plan(once, "plan.json");
  require(again.ok(), "a written plan is refused");
  require(io::write_plan(again.value(), standard(), "0") == once, "a plan is not written the same again");
  return true;
}

bool table(std::string_view bytes) {
  bool taken = false;
  for (const bool named : {true, false}) {
    io::TableRequest request;
    request.file = "table.csv";
    if (named) request.event = "2MR";
    if (named) request.column = "female";
    const auto read = io::import_table(bytes, request, standard());
    taken = read.ok() || judge(read.faults()) || taken;
  }
  return taken;
}

bool history(std::string_view bytes) {
  const auto read = io::read_history(bytes, "history.csv", context());
  if (!read.ok()) return judge(read.faults());
  for (const io::HistoryRow& row : read.value()) {
    require(row.line >= 1, "a row without a line");
    if (row.entry.date <= today()) judge_round_trip(row.entry);
  }
  return true;
}

// What is read of a watch's file is a run that a journal could hold.
bool judge_run(const Result<io::WatchRun>& read) {
  if (!read.ok()) return judge(read.faults());
  const io::WatchRun& run = read.value();
  require(run.elapsed.value() >= 1.0 && run.elapsed.value() <= 86400.0,
          "a run of no time, or of more than a day");
  require(run.moving.value() >= 0.0, "a run of less than no time");
  require(!run.distance || run.distance->value() >= 0.0, "a distance below nothing");
  require(io::read_date(io::write_date(io::day_of(run))).value.has_value(),
          "a run on no day of the calendar");
  require(io::clock_of(run).size() == 5, "a run at no time of the day");
  return true;
}

bool xml(std::string_view bytes) { return judge_run(io::read_watch_file(bytes, "run.gpx")); }

std::string little_endian(std::size_t value, int count) {
  std::string bytes;
  for (int i = 0; i < count; ++i)
    bytes += static_cast<char>((value >> (8U * static_cast<unsigned>(i))) & 0xFFU);
  return bytes;
}

// As they are; and as the data of a file whose sizes and checksums are right, which no fuzzer would hit upon.
bool fit(std::string_view bytes) {
  judge_run(io::read_watch_file(bytes, "run.fit"));
  constexpr std::size_t kHeader = 14;
  const bool whole = io::is_fit(bytes) && bytes.size() > kHeader + 2;
  const std::string_view data = whole ? bytes.substr(kHeader, bytes.size() - kHeader - 2) : bytes;
  std::string file("\x0E\x20\x54\x08", 4);
  file += little_endian(data.size(), 4) + ".FIT" + std::string(2, '\0');
  file += data;
  file += little_endian(io::fit_checksum(file), 2);
  return judge_run(io::read_watch_file(file, "run.fit"));
}

bool squad(std::string_view bytes) {
  const auto read = io::read_squad(bytes, "squad.json", standard(), model(), today());
  return read.ok() || judge(read.faults());
}

// A squad of plain mornings, whatever the roster says.
const io::SquadFrame& frame() {
  static const io::SquadFrame plain =
      io::read_squad(
          R"({ "format": "backplan-squad/1", "id": "x", "standard": "us-army-aft", "test_date": "2027-02-22",
           "mornings": { "mon": 60 }, "equipment": { "hex_bars": 1 } })",
          "squad.json", standard(), model(), today())
          .value();
  return plain;
}

const Squad& two_people() {
  static const Squad two = io::read_roster("id,birth_date,column\nA,1999-02-11,male\nB,1999-02-11,female\n",
                                           "roster.csv", frame(), standard(), model(), today())
                               .value();
  return two;
}

bool roster(std::string_view bytes) {
  const auto read = io::read_roster(bytes, "roster.csv", frame(), standard(), model(), today());
  if (!read.ok()) return judge(read.faults());
  for (const Member& member : read.value().members)
    require(!member.candidate.id.empty(), "somebody without an id");
  return true;
}

bool results(std::string_view bytes) {
  const auto read = io::read_squad_results(bytes, "results.csv", two_people().members, context());
  if (!read.ok()) return judge(read.faults());
  std::string journal = io::journal_head();
  for (const io::SquadEntry& one : read.value()) journal += io::squad_line(one.entry, one.who);
  const auto again = io::read_squad_journal(journal, "journal.jsonl", two_people().members, context());
  require(again.ok(), "written results make a journal that is refused");
  std::size_t entries = 0;
  for (const auto& [who, own] : again.value().by_id) entries += own.entries.size();
  require(entries == read.value().size(), "a written result is not read");
  return true;
}

bool squad_journal(std::string_view bytes) {
  const auto read = io::read_squad_journal(bytes, "journal.jsonl", two_people().members, context());
  return read.ok() || judge(read.faults());
}

bool programme(std::string_view bytes) {
  const auto read = io::read_programme(bytes, "programme.json");
  return read.ok() || judge(read.faults());
}

}  // namespace

const std::vector<Target>& targets() {
  static const std::vector<Target> all{{"candidate", candidate},
                                       {"journal", journal},
                                       {"plan", plan},
                                       {"table", table},
                                       {"history", history},
                                       {"xml", xml},
                                       {"fit", fit},
                                       {"squad", squad},
                                       {"roster", roster},
                                       {"results", results},
                                       {"squad_journal", squad_journal},
                                       {"programme", programme}};
  return all;
}

bool feed(std::string_view reader, std::string_view bytes) {
  const auto found = std::find_if(targets().begin(), targets().end(),
                                  [reader](const Target& target) { return target.reader == reader; });
  require(found != targets().end(), "no reader of this name");
  return found->feed(bytes);
}

}  // namespace backplan::fuzz

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <ostream>

#include "cli/commands.hpp"
#include "cli/journal_desk.hpp"
#include "cli/log_answer.hpp"
#include "cli/log_import.hpp"
#include "io/value_text.hpp"
#include "report/log_text.hpp"

namespace backplan::cli {
namespace {

constexpr std::size_t kLeastPrefix = 8;

Diagnostics id_fault(std::string message, std::string hint) {
  return {{Severity::error, "", 0, 0, "of", std::move(message), std::move(hint)}};
}

std::vector<std::string> ids_of(const Journal& journal) {
  std::vector<std::string> ids;
  for (const Entry& entry : journal.entries) ids.push_back(entry.id);
  std::sort(ids.begin(), ids.end());
  return ids;
}

std::string lower(std::string text) {
  for (char& c : text) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return text;
}

// The entry that an id or its beginning names.
Result<const Entry*> find_entry(const std::string& typed, const Journal& journal) {
  const std::string beginning = lower(typed);
  if (beginning.size() < kLeastPrefix) {
    return id_fault(
        fmt::format("\"{}\" is too short for an id", typed),
        fmt::format("give at least {} characters of it; `backplan log --list` shows the ids", kLeastPrefix));
  }
  std::vector<const Entry*> found;
  for (const Entry& entry : journal.entries) {
    const bool known =
        std::any_of(found.begin(), found.end(), [&](const Entry* e) { return e->id == entry.id; });
    if (!known && entry.id.compare(0, beginning.size(), beginning) == 0) found.push_back(&entry);
  }
  if (found.empty()) {
    return id_fault(fmt::format("no entry has an id that begins with \"{}\"", typed),
                    "`backplan log --list` shows the ids");
  }
  if (found.size() == 1) return found.front();
  std::vector<std::string> ids;
  for (const Entry* entry : found) ids.push_back(report::short_id(entry->id, ids_of(journal)));
  return id_fault(fmt::format("{} entries have an id that begins with \"{}\"", found.size(), typed),
                  fmt::format("give more of it: {}", fmt::join(ids, ", ")));
}

const Done* standing_entry(const Standing& standing, const std::string& id) {
  const auto found = std::find_if(standing.entries.begin(), standing.entries.end(),
                                  [&id](const Done& done) { return done.id == id; });
  return found == standing.entries.end() ? nullptr : &*found;
}

// The entry that may be corrected now: it stands, or two lines quarrel over its id.
Result<Done> correctable(const std::string& typed, const Journal& journal, const Standing& standing) {
  const auto found = find_entry(typed, journal);
  if (!found.ok()) return found.faults();
  const Entry& entry = *found.value();
  if (std::holds_alternative<Void>(entry.what)) {
    return id_fault(fmt::format("{} is a void, which cannot be undone", entry.id), "log the entry anew");
  }
  if (const Done* done = standing_entry(standing, entry.id)) return *done;
  const auto lines = std::count_if(journal.entries.begin(), journal.entries.end(),
                                   [&entry](const Entry& one) { return one.id == entry.id; });
  if (lines > 1) return as_done(entry);
  return id_fault(fmt::format("{} has been voided or replaced before", entry.id),
                  "`backplan log --list` shows what stands; log the entry anew if it is missing there");
}

// One run of the command: the order, the entry it became, what it corrected.
struct Logging {
  const JournalDesk& desk;
  const LogOrder& order;
  Date as_of;
  JournalDesk::Doubts doubts;
  std::string id;
  Entry entry;
  std::optional<Done> corrected;
  Standing standing;  // with the entry
  Journal journal;    // before it
};

Result<std::string> make_line(Logging& logging, const Journal& journal) {
  logging.journal = journal;
  const Standing before = effective(journal);
  io::EntryWords words = logging.order.words;
  words.fields["id"] = logging.id;
  std::string day = io::write_date(logging.as_of);
  if (logging.order.kind != LogOrder::Kind::entry) {
    auto target = correctable(logging.order.target, journal, before);
    if (!target.ok()) return with_options(target.faults());
    logging.corrected = std::move(target).value();
    words.fields["of"] = logging.corrected->id;
    if (logging.order.kind == LogOrder::Kind::replaces) day = io::write_date(logging.corrected->date);
  }
  if (logging.order.kind == LogOrder::Kind::voids) words.fields["kind"] = "void";
  words.fields.emplace("date", day);
  const auto entry = io::read_entry_words(words, logging.desk.context());
  if (!entry.ok()) return with_options(entry.faults());
  logging.entry = entry.value();
  std::vector<Done> others = before.entries;
  if (logging.corrected) {
    others.erase(std::remove_if(others.begin(), others.end(),
                                [&](const Done& done) { return done.id == logging.corrected->id; }),
                 others.end());
  }
  if (logging.order.kind != LogOrder::Kind::voids) {
    const Diagnostics faults =
        logging.desk.faults_of(as_done(logging.entry), logging.desk.best_known(others), logging.doubts);
    if (!faults.empty()) return with_options(faults);
  }
  Journal after = journal;
  after.entries.push_back(logging.entry);
  logging.standing = effective(after);
  return io::entry_line(logging.entry);
}

// Work that was done although pain had taken it off.
void warn_of_pain(const Logging& logging, const std::vector<PainStop>& stops, std::ostream& err) {
  const Done done = as_done(logging.entry);
  const auto* work = std::get_if<WorkDone>(&done.what);
  if (work == nullptr) return;
  for (const PainStop& stop : stops) {
    if (stop.since > done.date || std::count(stop.work.begin(), stop.work.end(), work->work) == 0) continue;
    tell_warning(fmt::format("{}: off because of pain ({}; {})", logging.desk.names().work(work->work),
                             stop.region, stop.why),
                 "stop it until the pain is gone and, where you were referred, licensed medical staff agree",
                 err);
  }
}

std::string answer_text(const Logging& logging, const std::vector<PainStop>& stops) {
  const report::Names names = logging.desk.names();
  const Done done = as_done(logging.entry);
  std::string text;
  if (logging.corrected) {
    text +=
        fmt::format("{}: {}, {}\n", logging.order.kind == LogOrder::Kind::voids ? "voided" : "replaced",
                    io::say_date(logging.corrected->date), report::deed_text(logging.corrected->what, names));
  }
  if (logging.order.kind != LogOrder::Kind::voids) {
    text += fmt::format("logged: {}, {}\n", io::say_date(done.date), report::deed_text(done.what, names));
    text += report::says_text(done, names);
    text += fmt::format("  `backplan log void {}` takes it back\n",
                        report::short_id(done.id, ids_of(logging.journal)));
  }
  if (!std::holds_alternative<Pain>(done.what)) return text;
  return text + (stops.empty() ? "no work is off because of pain\n" : report::stops_text(stops, names));
}

io::Json answer_json(const Logging& logging, const std::vector<PainStop>& stops) {
  io::Json json;
  json["logged"] = io::entry_json(logging.entry);
  json["corrected"] = logging.corrected ? io::done_json(*logging.corrected) : io::Json(nullptr);
  const bool voids = logging.order.kind == LogOrder::Kind::voids;
  json["reads_as"] = voids ? io::Json(nullptr) : reading_json(as_done(logging.entry), logging.desk);
  json["pain_stops"] = stops_json(stops);
  return json;
}

int log_entry(const JournalDesk& desk, const LogOrder& order, const LogOptions& options,
              const Session& session) {
  const auto doubts = options.sure ? JournalDesk::Doubts::accepted : JournalDesk::Doubts::asked;
  Logging logging{desk, order, session.as_of, doubts, desk.new_id(), {}, std::nullopt, {}, {}};
  std::vector<PainStop> stops;
  std::string answer;  // whole before anything is written
  const Diagnostics faults = desk.append([&](const Journal& journal) {
    auto line = make_line(logging, journal);
    if (!line.ok()) return line;
    stops = desk.pain_by(logging.standing.entries);
    answer = session.json() ? io::pretty(answer_json(logging, stops)) : answer_text(logging, stops);
    return line;
  });
  if (!faults.empty()) return refuse(faults, session);
  tell_warnings(logging.journal, effective(logging.journal), session);
  warn_of_pain(logging, stops, session.streams.err);
  answer_change(answer, "`backplan log --list` shows it", session);
  return kExitDone;
}

int list(const JournalDesk& desk, const Session& session) {
  const auto journal = desk.read();
  if (!journal.ok()) return refuse(journal.faults(), session);
  const Standing standing = effective(journal.value());
  tell_warnings(journal.value(), standing, session);
  const auto stops = desk.pain_by(standing.entries);
  if (!session.json()) {
    session.streams.out << report::list_text(standing.entries, desk.names())
                        << report::stops_text(stops, desk.names());
    return kExitDone;
  }
  io::Json json;
  json["entries"] = io::Json::array();
  for (const Done& done : standing.entries) {
    io::Json one = io::done_json(done);
    one["reads_as"] = reading_json(done, desk);
    json["entries"].push_back(std::move(one));
  }
  json["pain_stops"] = stops_json(stops);
  session.streams.out << io::pretty(json);
  return kExitDone;
}

}  // namespace

int log(const Session& session, const LogOptions& options) {
  const auto workspace = read_workspace(session, io::TestOver::allowed);
  if (!workspace.ok()) return refuse(workspace.faults(), session);
  const JournalDesk desk(session, workspace.value());
  std::vector<std::string> work = desk.files().model.work_ids();
  for (const FixedKind& kind : desk.files().model.fixed) work.push_back(kind.id);
  const LogOrder order = read_order(options, work);
  if (order.kind == LogOrder::Kind::list) return list(desk, session);
  if (order.kind == LogOrder::Kind::import) return log_import(desk, order.target, options, session);
  return log_entry(desk, order, options, session);
}

}  // namespace backplan::cli

#include "cli/squad_files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <ostream>
#include <set>
#include <utility>

#include "backplan/suited.hpp"
#include "io/csv.hpp"
#include "io/journal_reader.hpp"
#include "io/json_text.hpp"
#include "io/programme_json.hpp"
#include "io/value_text.hpp"
#include "report/words.hpp"
#include "store/files.hpp"

namespace backplan::cli {
namespace {

constexpr const char* kNoSquad =
    "a squad's folder has squad.json and roster.csv; `backplan squad --help` shows the smallest ones";
constexpr std::size_t kMostWarnings = 5;  // of a journal, where only a part of the answer rests on it

// What one person had to do at a station; none where it is somebody else's.
std::optional<Block> block_at(const Station& station, const Person& person, const Model& model) {
  const auto own = [&](const Turn& turn) { return turn.id == person.id; };
  const auto mine = std::find_if(station.turns.begin(), station.turns.end(), own);
  const WorkKind* kind = model.find_work(station.work);
  if (mine == station.turns.end() || kind == nullptr) return std::nullopt;
  // In files of earlier versions a stay tells the size by its minutes, turns on a lane do not.
  const bool lane = std::count_if(station.turns.begin(), station.turns.end(), own) > 1;
  Block block;
  block.work = station.work;
  block.size = mine->size.value_or(lane || mine->to - mine->from >= kind->full.minutes ? BlockSize::full
                                                                                       : BlockSize::shorter);
  block.minutes = block.size == BlockSize::full ? kind->full.minutes : kind->shorter.minutes;
  return block;
}

// The sheet's mornings as the plan that one person followed.
Plan followed_plan(const Programme& programme, const Person& person, const Model& model) {
  Plan plan;
  plan.candidate = person.id;
  plan.as_of = programme.as_of;
  plan.test_date = person.test_date;
  std::map<Date, PlannedDay> days;
  for (const Morning& morning : programme.mornings) {
    for (const Station& station : morning.stations) {
      if (const auto block = block_at(station, person, model)) days[morning.date].blocks.push_back(*block);
    }
  }
  for (const Extra& extra : person.extra) days[extra.date].blocks.push_back(extra.block);
  std::map<int, PlannedWeek, std::greater<>> weeks;
  for (auto& [date, day] : days) {
    day.date = date;
    const auto to_test = static_cast<int>((person.test_date - date).count());
    if (to_test <= 0) continue;
    PlannedWeek& week = weeks[(to_test + 6) / 7];
    week.index = (to_test + 6) / 7;
    week.starts = person.test_date - Days(7 * week.index);
    for (const Block& block : day.blocks) {
      week.minutes += block.minutes;
      if (block.size != BlockSize::home) day.session_minutes += block.minutes;
    }
    week.days.push_back(day);
  }
  for (auto& [index, week] : weeks) plan.weeks.push_back(std::move(week));
  return plan;
}

// Who was in the programme is taken to have been there, unless an entry says otherwise: planned days without
// an entry count as they do for a single candidate.
void begin_with_plan(History& history, Date as_of) {
  if (!history.plan || history.plan->weeks.empty()) return;
  const Date first = history.plan->weeks.front().days.front().date;
  if (first < as_of && (!history.begins || first < *history.begins)) history.begins = first;
}

std::string bytes_of(const Session& session, const char* file) {
  const std::string name = session.file(file).string();
  if (!store::is_there(name)) return {};
  const auto text = store::read_file(name, io::kMostJournalBytes);
  return text.ok() ? text.value() : std::string();
}

struct NamedText {
  std::string name, text;
};

struct SquadTexts {
  NamedText squad, roster;
};

Result<SquadTexts> read_texts(const Session& session) {
  const std::string squad_name = session.file("squad.json").string();
  const std::string roster_name = session.file("roster.csv").string();
  const auto squad = store::read_file(squad_name, io::kMostJsonBytes, kNoSquad);
  const auto roster = store::read_file(roster_name, kMostRosterBytes, kNoSquad);
  Diagnostics faults;
  collect(squad, faults);
  collect(roster, faults);
  if (!faults.empty()) return faults;
  return SquadTexts{{squad_name, squad.value()}, {roster_name, roster.value()}};
}

// Today in two months as the test of a squad whose own day is not known.
Date likely_test(Date as_of) { return as_of + Days(60); }

// What is wrong with the files beside a standard that is missing or unknown, so that one look finds it all:
// they are read by the standard whose name comes nearest, and only what no standard decides is told.
void add_other_faults(const SquadTexts& texts, const std::string& id, const Library& library,
                      const Model& model, Date as_of, Diagnostics& faults) {
  const std::vector<std::string> ids = library.standard_ids();
  const auto near = io::nearest_word(id, ids);
  const auto standard = library.standard(near ? *near : ids.front());
  if (!standard.ok()) return;
  const auto add = [&](const Diagnostics& more, const std::set<std::string>& told, bool only_told) {
    for (const Diagnostic& one : more) {
      const bool known = std::any_of(faults.begin(), faults.end(), [&](const Diagnostic& other) {
        return other.file == one.file && other.line == one.line && other.message == one.message;
      });
      if (!known && (told.count(one.field) > 0) == only_told) faults.push_back(one);
    }
  };
  const auto frame = io::read_squad(texts.squad.text, texts.squad.name, standard.value(), model, as_of,
                                    io::TestOver::allowed);
  if (!frame.ok()) add(frame.faults(), {"/standard"}, false);
  const auto squad = io::read_roster(texts.roster.text, texts.roster.name, stand_in_frame(likely_test(as_of)),
                                     standard.value(), model, as_of);
  const std::set<std::string> own{"id",           "display", "birth_date", "background",
                                  "results_date", "setting", "test_date",  "absent"};
  if (!squad.ok()) add(squad.faults(), own, true);
}

// The data of the program that the two files are read by.
struct SquadData {
  Standard standard;
  Model model;
  Rules rules;
};

Result<SquadData> read_data(const SquadTexts& texts, const Session& session) {
  const Library library(session.environment);
  const auto model = library.model();
  const auto rules = library.rules();
  Diagnostics faults;
  collect(model, faults);
  collect(rules, faults);
  if (!faults.empty()) return faults;
  const auto id = io::peek_standard(texts.squad.text, texts.squad.name);
  const auto whole = id.ok() ? library.standard(id.value()) : Result<Standard>(id.faults());
  if (!whole.ok()) {
    faults = io::placed_at_standard(texts.squad.text, texts.squad.name, whole.faults());
    add_other_faults(texts, id.ok() ? id.value() : "", library, model.value(), session.as_of, faults);
    return faults;
  }
  // A squad trains for the first event of each choice.
  const Standard standard = with_choice(whole.value(), {});
  faults = too_much_work(model.value(), standard);
  if (!faults.empty()) return faults;
  const Model own = suited_model(model.value(), standard);
  return SquadData{standard, own, suited_rules(rules.value(), own)};
}

// Whether somebody may have a test of his own. Of a table that cannot be read nobody knows.
bool may_have_own_dates(const NamedText& roster) {
  const auto table = io::read_csv(roster.text, roster.name);
  if (!table.ok()) return true;
  const io::CsvRow& header = table.value().rows.front();
  return std::any_of(header.begin(), header.end(),
                     [](const io::CsvCell& cell) { return cell.text == "test_date"; });
}

bool all_over(const Squad& squad, Date as_of) {
  return std::all_of(squad.members.begin(), squad.members.end(),
                     [&](const Member& member) { return member.candidate.test_date < as_of; });
}

}  // namespace

const Member& SquadFiles::member(const std::string& id) const {
  std::vector<std::string> ids;
  for (const Member& member : squad.members) {
    if (member.candidate.id == id) return member;
    ids.push_back(member.candidate.id);
  }
  const auto near = io::nearest_word(id, ids);
  throw UsageError(fmt::format("nobody of this squad has the id \"{}\"", id),
                   near ? fmt::format("did you mean \"{}\"?", *near) : "roster.csv has the ids");
}

Result<std::shared_ptr<const SquadFiles>> read_squad_files(const Session& session, io::TestOver over) {
  const auto texts = read_texts(session);
  if (!texts.ok()) return texts.faults();
  const auto data = read_data(texts.value(), session);
  if (!data.ok()) return data.faults();
  const auto& [squad_text, roster_text] = texts.value();
  const auto& [standard, model, rules] = data.value();
  // The squad's own day may be over while somebody is still to be tested; only with own dates can that be.
  const auto frame = io::read_squad(squad_text.text, squad_text.name, standard, model, session.as_of,
                                    may_have_own_dates(roster_text) ? io::TestOver::allowed : over);
  Diagnostics faults;
  collect(frame, faults);
  // The roster is read even where squad.json is wrong, so that one look finds all.
  const auto squad = io::read_roster(roster_text.text, roster_text.name,
                                     frame.ok() ? frame.value() : stand_in_frame(likely_test(session.as_of)),
                                     standard, model, session.as_of);
  collect(squad, faults);
  if (faults.empty() && over == io::TestOver::refused && all_over(squad.value(), session.as_of))
    collect(io::read_squad(squad_text.text, squad_text.name, standard, model, session.as_of), faults);
  if (!faults.empty()) return faults;
  return std::make_shared<const SquadFiles>(SquadFiles{standard, model, rules, squad.value()});
}

io::SquadFrame stand_in_frame(Date test_date) {
  io::SquadFrame frame;
  frame.common.test_date = frame.squad.test_date = test_date;
  return frame;
}

Standing SquadPast::of(const std::string& id) const {
  const auto found = standing.find(id);
  return found == standing.end() ? Standing{} : found->second;
}

Result<SquadPast> read_squad_past(const Session& session, const SquadFiles& files) {
  return read_squad_past(session, files.squad.members, files.context(session.as_of));
}

Result<SquadPast> read_squad_past(const Session& session, const std::vector<Member>& members,
                                  const io::EntryContext& context) {
  const std::string name = session.file("journal.jsonl").string();
  if (!store::is_there(name)) return SquadPast{};
  const auto text = store::read_file(name, io::kMostJournalBytes);
  if (!text.ok()) return text.faults();
  auto journal = io::read_squad_journal(text.value(), name, members, context);
  if (!journal.ok()) return journal.faults();
  SquadPast past{std::move(journal).value(), {}, {}};
  past.warnings = past.journal.warnings;
  for (const auto& [id, own] : past.journal.by_id) {
    Standing standing = effective(own);
    past.warnings.insert(past.warnings.end(), standing.faults.begin(), standing.faults.end());
    past.standing.emplace(id, std::move(standing));
  }
  sort_by_place(past.warnings);
  return past;
}

void tell_warnings(const SquadPast& past, const Session& session) {
  const std::size_t told = std::min(past.warnings.size(), kMostWarnings);
  for (std::size_t i = 0; i < told; ++i) session.streams.err << to_string(past.warnings[i]) << '\n';
  if (told == past.warnings.size()) return;
  session.streams.err << fmt::format(
      "and {}; `backplan squad check` lists all\n",
      report::count(past.warnings.size() - told, "more warning", "more warnings"));
}

Result<Programme> read_stored_programme(const Session& session) {
  const std::string name = session.file("programme.json").string();
  const auto text = store::read_file(name, io::kMostJsonBytes,
                                     "`backplan squad` makes the programme; -C DIR names its folder");
  if (!text.ok()) return text.faults();
  auto programme = io::read_programme(text.value(), name);
  if (programme.ok()) return programme;
  return made_anew_by("`backplan squad`", programme.faults());
}

Result<std::vector<History>> histories_of(const Session& session, const SquadFiles& files,
                                          const std::optional<Programme>& followed) {
  const auto past = read_squad_past(session, files);
  if (!past.ok()) return past.faults();
  tell_warnings(past.value(), session);
  std::vector<History> out;
  for (const Member& member : files.squad.members) {
    std::optional<Plan> plan;
    for (const Person& person : followed ? followed->people : std::vector<Person>{}) {
      if (person.id == member.candidate.id) plan = followed_plan(*followed, person, files.model);
    }
    out.push_back(history_of(past.value().of(member.candidate.id), std::move(plan)));
    begin_with_plan(out.back(), session.as_of);
  }
  return out;
}

std::string squad_basis(const Session& session, const SquadFiles& files) {
  std::string bytes =
      io::write_date(session.as_of) + files.standard.content_hash + defaults_hash(files.model, files.rules);
  for (const char* file : {"squad.json", "roster.csv", "journal.jsonl"})
    bytes += "\n" + bytes_of(session, file);
  return io::content_hash(bytes);
}

}  // namespace backplan::cli

#include "cli/stored_squad.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>
#include <variant>
#include <vector>

#include "backplan/suited.hpp"
#include "backplan/work_off.hpp"
#include "cli/squad_files.hpp"
#include "cli/workspace.hpp"
#include "io/json_text.hpp"
#include "io/squad_reader.hpp"
#include "report/squad_off.hpp"
#include "report/squad_text.hpp"
#include "store/files.hpp"

namespace backplan::cli {
namespace {

// The people of the roster as it is now, by id. None where there is no roster, or, with a warning, where it
// cannot be read: a sheet on the wall must not depend on it.
std::map<std::string, Candidate> roster_beside(const Session& session, const StoredSquad& stored) {
  std::map<std::string, Candidate> out;
  const std::string name = session.file("roster.csv").string();
  if (!store::is_file(name)) return out;
  const auto text = store::read_file(name, kMostRosterBytes);
  if (text.ok()) {
    const auto read = io::read_roster(text.value(), name, stand_in_frame(stored.programme.test_date),
                                      stored.standard, stored.model, session.as_of);
    if (read.ok()) {
      for (const Member& member : read.value().members) out[member.candidate.id] = member.candidate;
      return out;
    }
  }
  tell_warning(name + " cannot be read: work that it takes off is not marked here",
               "`backplan squad check` names its faults", session.streams.err);
  return out;
}

// What the journal and the roster beside the programme say of its people, with the warnings of the journal.
Result<std::map<std::string, report::SquadNews>> news_of(const Session& session, StoredSquad& stored,
                                                         const PainRules& rules) {
  std::vector<Member> members;
  for (const Person& person : stored.programme.people) {
    members.emplace_back();
    members.back().candidate.id = person.id;
  }
  const auto past = read_squad_past(session, members, {stored.standard, stored.model, session.as_of});
  if (!past.ok()) return past.faults();
  tell_warnings(past.value(), session);
  const std::map<std::string, Candidate> roster = roster_beside(session, stored);
  std::map<std::string, report::SquadNews> out;
  for (const Person& person : stored.programme.people) {
    const std::vector<Done> entries = past.value().of(person.id).entries;
    // So that calendars take a file with news of pain for newer than the one before it.
    stored.programme.revision +=
        static_cast<int>(std::count_if(entries.begin(), entries.end(), [](const Done& done) {
          return std::holds_alternative<Pain>(done.what);
        }));
    report::SquadNews& news = out[person.id];
    news.stops = pain_of(entries, stored.model, rules, session.as_of);
    if (const auto row = roster.find(person.id); row != roster.end()) news.candidate = row->second;
  }
  return out;
}

}  // namespace

Result<StoredSquad> read_stored_squad(const Session& session) {
  auto programme = read_stored_programme(session);
  if (!programme.ok()) return programme.faults();
  const Library library(session.environment);
  const auto standard = library.standard(programme.value().standard);
  const auto model = library.model();
  const auto rules = library.rules();
  if (!standard.ok()) return standard.faults();
  if (!model.ok()) return model.faults();
  if (!rules.ok()) return rules.faults();
  // As the programme was made.
  const Standard taken = with_choice(standard.value(), {});
  StoredSquad out{std::move(programme).value(), taken, suited_model(model.value(), taken)};
  const PainRules pain = suited_rules(rules.value(), out.model).pain;
  const auto news = news_of(session, out, pain);
  if (!news.ok()) return news.faults();
  out.programme = report::as_followed(std::move(out.programme), news.value(), {out.standard, out.model}, pain,
                                      session.as_of);
  return out;
}

int known_week(const Programme& programme, int week) {
  const int first = report::squad_week_of(
      programme, programme.mornings.empty() ? programme.as_of
                                            : std::min(programme.as_of, programme.mornings.front().date));
  if (week <= first) return week;
  throw UsageError(fmt::format("this programme has no week {}", week),
                   fmt::format("weeks count back from the last test: {} is the first, 1 the last", first));
}

const Person& person_of(const Programme& programme, const std::string& id) {
  const Person* person = report::find_person(programme, id);
  if (person != nullptr) return *person;
  std::vector<std::string> ids;
  for (const Person& one : programme.people) ids.push_back(one.id);
  const auto near = io::nearest_word(id, ids);
  throw UsageError(fmt::format("nobody in the programme has the id \"{}\"", id),
                   near ? fmt::format("did you mean \"{}\"?", *near)
                        : "roster.csv has the ids; `backplan squad replan` "
                          "takes in who is new");
}

}  // namespace backplan::cli

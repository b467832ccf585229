#include "cli/stored_squad.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>
#include <variant>
#include <vector>

#include "cli/squad_files.hpp"
#include "cli/workspace.hpp"
#include "io/value_text.hpp"
#include "report/squad_off.hpp"
#include "report/squad_text.hpp"

namespace backplan::cli {
namespace {

struct Stops {
  std::map<std::string, std::vector<PainStop>> by_person;
  int pain_entries = 0;
};

// The pain of the people of the programme that holds today, by the journal beside it.
Result<Stops> stops_of(const Session& session, const StoredSquad& stored, const PainRules& rules) {
  std::vector<Member> members;
  for (const Person& person : stored.programme.people) {
    members.emplace_back();
    members.back().candidate.id = person.id;
  }
  const auto journal = read_squad_past(session, members, {stored.standard, stored.model, session.as_of});
  if (!journal.ok()) return journal.faults();
  std::vector<std::string> all_work;
  for (const WorkKind& kind : stored.model.work) all_work.push_back(kind.id);
  Stops out;
  for (const auto& [id, own] : journal.value().by_id) {
    const std::vector<Done> entries = effective(own).entries;
    out.pain_entries += static_cast<int>(std::count_if(entries.begin(), entries.end(), [](const Done& done) {
      return std::holds_alternative<Pain>(done.what);
    }));
    auto stops = pain_stops(entries, rules, all_work, session.as_of);
    if (!stops.empty()) out.by_person.emplace(id, std::move(stops));
  }
  return out;
}

}  // namespace

Result<StoredSquad> read_stored_squad(const Session& session) {
  auto programme = read_stored_programme(session);
  if (!programme.ok()) return programme.faults();
  const Library library(session.environment);
  auto standard = library.standard(programme.value().standard);
  auto model = library.model();
  if (!standard.ok()) return standard.faults();
  if (!model.ok()) return model.faults();
  StoredSquad out{std::move(programme).value(), std::move(standard).value(), std::move(model).value()};
  const auto rules = library.rules();
  if (!rules.ok()) return rules.faults();
  const auto stops = stops_of(session, out, rules.value().pain);
  if (!stops.ok()) return stops.faults();
  out.programme = report::with_pain(std::move(out.programme), stops.value().by_person,
                                    {out.standard, out.model}, rules.value().pain, session.as_of);
  // So that calendars take a file with news of pain for newer than the one before it.
  out.programme.revision += stops.value().pain_entries;
  return out;
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

#include "cli/stored_squad.hpp"

#include <fmt/format.h>

#include "cli/squad_files.hpp"
#include "cli/workspace.hpp"
#include "io/value_text.hpp"
#include "report/squad_text.hpp"

namespace backplan::cli {

Result<StoredSquad> read_stored_squad(const Session& session) {
  auto programme = read_stored_programme(session);
  if (!programme.ok()) return programme.faults();
  const Library library(session.environment);
  auto standard = library.standard(programme.value().standard);
  auto model = library.model();
  if (!standard.ok()) return standard.faults();
  if (!model.ok()) return model.faults();
  return StoredSquad{std::move(programme).value(), std::move(standard).value(), std::move(model).value()};
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

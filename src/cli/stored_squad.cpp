#include "cli/stored_squad.hpp"

#include <fmt/format.h>

#include <algorithm>

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

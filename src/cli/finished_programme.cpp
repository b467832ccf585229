#include "cli/finished_programme.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/finished_plan.hpp"
#include "io/programme_json.hpp"
#include "report/words.hpp"
#include "store/files.hpp"

namespace backplan::cli {

std::string write_checked(const Programme& programme, const SquadFiles& files, const Session& session) {
  const auto broken = check_programme(programme, files.squad, files.knowledge());
  if (!broken.empty()) {
    const SquadViolation& first = broken.front();
    throw BrokenPlan(fmt::format("the programme breaks the rule {}{} on {}: {} (and {} more)", first.rule,
                                 first.who.empty() ? "" : " for " + first.who,
                                 report::short_date(first.where), first.what, broken.size() - 1));
  }
  const std::string bytes = io::write_programme(programme, files.standard, BACKPLAN_VERSION);
  store::write_atomically(session.file("programme.json"), bytes);
  return bytes;
}

int exit_code_of(const Programme& programme) {
  const bool all = std::all_of(programme.people.begin(), programme.people.end(), [&](const Person& person) {
    return person.refused.empty() && 1.0 - person.p_fail >= programme.confidence;
  });
  return all ? kExitDone : kExitAnswerIsNo;
}

}  // namespace backplan::cli

#include "cli/finished_programme.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/finished_plan.hpp"
#include "cli/revision.hpp"
#include "io/programme_json.hpp"
#include "io/readers.hpp"
#include "report/squad_text.hpp"
#include "report/words.hpp"
#include "store/files.hpp"

namespace backplan::cli {

namespace {

// The programme as the next revision of the one that lies there. One that cannot be read is written over.
Programme after_the_stored(const Programme& programme, const Standard& standard, const Session& session) {
  const auto path = session.file("programme.json");
  if (!store::is_file(path)) return programme;
  const auto bytes = store::read_file(path, io::kMostJsonBytes);
  if (!bytes.ok()) return programme;
  const auto old = io::read_programme(bytes.value(), path.string());
  return old.ok() ? revised(programme, old.value(), bytes.value(), standard) : programme;
}

}  // namespace

std::string checked_bytes(const Programme& programme, const SquadFiles& files, const Session& session) {
  const auto broken = check_programme(programme, files.squad, files.knowledge());
  if (!broken.empty()) {
    const SquadViolation& first = broken.front();
    throw BrokenPlan(fmt::format("the programme breaks the rule {}{} on {}: {} (and {} more)", first.rule,
                                 first.who.empty() ? "" : " for " + first.who,
                                 report::short_date(first.where), first.what, broken.size() - 1));
  }
  return io::write_programme(after_the_stored(programme, files.standard, session), files.standard,
                             BACKPLAN_VERSION);
}

void keep_past(const Programme& old, Programme& now) {
  std::vector<Morning> mornings;
  for (const Morning& morning : old.mornings) {
    if (morning.date < now.as_of) mornings.push_back(morning);
  }
  mornings.insert(mornings.end(), now.mornings.begin(), now.mornings.end());
  now.mornings = std::move(mornings);
  for (Person& person : now.people) {
    const Person* before = report::find_person(old, person.id);
    if (before == nullptr) continue;
    std::vector<Extra> extra;
    for (const Extra& one : before->extra) {
      if (one.date < now.as_of) extra.push_back(one);
    }
    extra.insert(extra.end(), person.extra.begin(), person.extra.end());
    person.extra = std::move(extra);
  }
}

int exit_code_of(const Programme& programme) {
  const bool all = std::all_of(programme.people.begin(), programme.people.end(), [&](const Person& person) {
    return person.done || (person.refused.empty() && 1.0 - person.p_fail >= programme.confidence);
  });
  return all ? kExitDone : kExitAnswerIsNo;
}

}  // namespace backplan::cli

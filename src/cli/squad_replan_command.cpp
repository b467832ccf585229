#include <fmt/format.h>

#include <algorithm>
#include <ostream>

#include "cli/commands.hpp"
#include "cli/finished_programme.hpp"
#include "cli/progress_bar.hpp"
#include "cli/squad_files.hpp"
#include "io/programme_json.hpp"
#include "io/value_text.hpp"
#include "report/squad_text.hpp"
#include "report/squad_words.hpp"
#include "report/words.hpp"
#include "store/files.hpp"

namespace backplan::cli {
namespace {

constexpr double kWorthTelling = 0.05;  // of a chance to pass

std::string gain_text(const Move& move, SquadGoal goal, const Standard& standard) {
  if (!move.gain)
    return move.given_up ? "the squad gives the old week up, which helps it in all"
                         : "the mornings do not hold the old week any more";
  if (goal == SquadGoal::highest_mean)
    return standard.pass_or_fail ? fmt::format("brings about {:.2f} of an event passed", *move.gain)
                                 : fmt::format("brings about {:.0f} points", *move.gain);
  return fmt::format("{} by about {:.0f} in 100",
                     goal == SquadGoal::fewest_failing ? "likelier to pass" : "likelier to reach the target",
                     100.0 * *move.gain);
}

std::vector<report::SquadChange> changes_between(const Programme& old, const Programme& now,
                                                 const Standard& standard) {
  std::vector<report::SquadChange> out;
  for (const Person& person : now.people) {
    const Person* before = report::find_person(old, person.id);
    if (before == nullptr) {
      out.push_back({person.id,
                     person.refused.empty() ? fmt::format("joins group {}", person.group) : "joins; referred",
                     ""});
      continue;
    }
    if (person.done) {
      if (!before->done) out.push_back({person.id, "is tested; nothing is planned any more", ""});
      continue;
    }
    if (before->done) out.push_back({person.id, fmt::format("is back, in group {}", person.group), ""});
    if (before->refused != person.refused)
      out.push_back(
          {person.id,
           person.refused.empty() ? fmt::format("is back, in group {}", person.group) : "is referred",
           person.refused});
    if (before->test_date != person.test_date)
      out.push_back({person.id, "is tested on " + io::say_date(person.test_date), ""});
    if (!is_planned(*before) || !is_planned(person)) continue;  // of one of them there is no chance
    const double change = before->p_fail - person.p_fail;
    if (change > kWorthTelling || change < -kWorthTelling)
      out.push_back(
          {person.id,
           fmt::format("{}: {}, before {}", report::passing_words(standard),
                       report::say_chance(1.0 - person.p_fail), report::say_chance(1.0 - before->p_fail)),
           ""});
  }
  for (const Person& person : old.people) {
    if (report::find_person(now, person.id) == nullptr) out.push_back({person.id, "has left the roster", ""});
  }
  for (const Move& move : now.moves)
    out.push_back({move.id, fmt::format("moves from group {} to {}", move.from, move.to),
                   gain_text(move, now.goal, standard)});
  return out;
}

std::string answer_of(const Programme& programme, const std::vector<report::SquadChange>& changes,
                      bool unchanged, const SquadFiles& files, const Session& session) {
  if (!session.json()) {
    if (unchanged) return "Nothing has changed since this programme was made.\n";
    return report::squad_changes_text(changes) + '\n' +
           report::programme_text(programme, {files.standard, files.model});
  }
  io::Json json;
  json["unchanged"] = unchanged;
  json["changes"] = io::Json::array();
  for (const report::SquadChange& one : changes)
    json["changes"].push_back({{"id", one.id}, {"what", one.what}, {"why", one.why}});
  json["expected_failing"] = io::rounded(programme.outlook.expected_failing, io::kChanceDecimals);
  return io::pretty(json);
}

}  // namespace

int squad_replan(const Session& session, const SquadOptions& options) {
  const auto read = read_squad_files(session);
  if (!read.ok()) return refuse(read.faults(), session);
  SquadFiles files = *read.value();
  if (options.pooling) files.squad.pooling = *options.pooling;
  auto old = read_stored_programme(session);
  if (!old.ok()) return refuse(old.faults(), session);
  const std::string basis = squad_basis(session, files);
  if (basis == old.value().basis && !options.pooling) {
    session.streams.out << answer_of(old.value(), {}, true, files, session);
    return exit_code_of(old.value());
  }
  const auto histories = histories_of(session, files, old.value());
  if (!histories.ok()) return refuse(histories.faults(), session);
  Programme programme;
  {
    ProgressBar bar(session);
    programme = make_programme(files.squad, files.knowledge(), session.as_of, histories.value(),
                               {bar.teller(), old.value().groups, {}});
  }
  const auto changes = changes_between(old.value(), programme, files.standard);
  programme.basis = basis;
  keep_past(old.value(), programme);
  const std::string bytes = checked_bytes(programme, files, session);
  const std::string answer = answer_of(programme, changes, false, files, session);
  store::write_atomically(session.file("programme.json"), bytes);
  answer_change(answer, "`backplan squad week` shows what comes next", session);
  return exit_code_of(programme);
}

}  // namespace backplan::cli

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <ostream>
#include <utility>

#include "backplan/suited.hpp"
#include "cli/beside.hpp"
#include "cli/commands.hpp"
#include "cli/journal_desk.hpp"
#include "cli/past.hpp"
#include "cli/workspace.hpp"
#include "io/journal_reader.hpp"
#include "io/json_text.hpp"
#include "io/plan_json.hpp"
#include "io/readers.hpp"
#include "io/value_text.hpp"
#include "report/log_text.hpp"
#include "report/plan_text.hpp"
#include "report/show_text.hpp"
#include "store/files.hpp"

namespace backplan::cli {
namespace {

const PlannedWeek* week_of(const Plan& plan, Date date) {
  for (const PlannedWeek& week : plan.weeks) {
    if (date >= week.starts && date < week.starts + Days(week.days_long)) return &week;
  }
  return nullptr;
}

// The week that was asked for; the first when the plan has not begun.
const PlannedWeek& wanted_week(const Plan& plan, const ShowOptions& options, Date as_of) {
  if (plan.weeks.empty())
    throw UsageError("this plan has no weeks: no day is left before the test",
                     "`backplan testday` is the sheet for the day");
  if (!options.week) {
    const PlannedWeek* week = week_of(plan, as_of);
    if (week != nullptr) return *week;
    if (as_of < plan.weeks.front().starts) return plan.weeks.front();
    throw UsageError("this plan is over: the test was on " + io::say_date(plan.test_date),
                     "--week N or --all shows the weeks that were");
  }
  const auto found = std::find_if(plan.weeks.begin(), plan.weeks.end(), [&options](const PlannedWeek& week) {
    return week.index == *options.week;
  });
  if (found != plan.weeks.end()) return *found;
  throw UsageError(fmt::format("this plan has no week {}", *options.week),
                   fmt::format("weeks count back from the test: {} is the first, {} the last",
                               plan.weeks.front().index, plan.weeks.back().index));
}

std::string stops_text(const Beside& beside, const report::Names& names, Date today) {
  const auto off = beside.notes.off.find(today);
  return report::stops_text(beside.stops, names) + (off == beside.notes.off.end() || beside.stops.empty()
                                                        ? ""
                                                        : report::instead_text(off->second, names));
}

// A day as in the plan; blocks that are off say why.
io::Json day_json(const PlannedDay& day, const Beside& beside) {
  io::Json json = io::day_json(day);
  for (std::size_t i = 0; i < day.blocks.size(); ++i) {
    const WorkOff* off = report::off_on(beside.notes.off, day.date, day.blocks[i].work);
    if (off == nullptr) continue;
    json["blocks"][i]["off"] = off->why;
    json["blocks"][i]["instead"] = off->instead;
  }
  if (const auto mark = beside.notes.marks.find(day.date); mark != beside.notes.marks.end())
    json["mark"] = mark->second;
  return json;
}

// Before whatever else is shown of a plan that is refused.
std::string refusal_above(const Plan& plan) {
  const std::string text = report::refused_text(plan);
  return text.empty() ? text : text + '\n';
}

void note_refusal(const Plan& plan, io::Json& json) {
  if (!plan.refused.empty()) json["refused"] = plan.refused;
}

std::string week_answer(const PlannedWeek& week, const Plan& plan, const report::Names& names,
                        const Beside& beside, const Session& session) {
  if (!session.json()) {
    return refusal_above(plan) + stops_text(beside, names, session.as_of) +
           report::week_text(week, names, beside.notes) + '\n' + report::cautions_text(plan);
  }
  io::Json written = io::week_json(week);
  written["days"] = io::Json::array();
  for (const PlannedDay& day : week.days) written["days"].push_back(day_json(day, beside));
  io::Json json;
  json["candidate"] = plan.candidate;
  note_refusal(plan, json);
  json["weeks"] = io::Json::array({written});
  return io::pretty(json);
}

// Of a plan that is refused: there is no week to show, but for those that are over.
std::string refusal_answer(const Plan& plan, const report::Names& names, const Beside& beside,
                           const Session& session) {
  if (!session.json()) {
    std::string text = refusal_above(plan) + stops_text(beside, names, session.as_of);
    if (!plan.weeks.empty()) text += "`backplan show --all` has the days that are over.\n\n";
    return text + report::cautions_text(plan);
  }
  io::Json json;
  json["candidate"] = plan.candidate;
  note_refusal(plan, json);
  json["weeks"] = io::Json::array();
  return io::pretty(json);
}

std::string day_answer(Date date, const Plan& plan, const report::Names& names, const Beside& beside,
                       const Session& session) {
  if (!session.json()) {
    return refusal_above(plan) + stops_text(beside, names, session.as_of) +
           report::day_text(plan, date, names, beside.notes) + '\n' + report::cautions_text(plan);
  }
  io::Json json;
  json["candidate"] = plan.candidate;
  json["date"] = io::date_json(date);
  note_refusal(plan, json);
  json["days"] = io::Json::array();
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.date == date) json["days"].push_back(day_json(day, beside));
    }
  }
  return io::pretty(json);
}

// The day of the test itself, which no week of the plan holds.
std::string test_day_answer(const Plan& plan, const report::Names& names, const Beside& beside,
                            const Session& session) {
  if (!session.json())
    return stops_text(beside, names, session.as_of) +
           "Today is the test: nothing else is planned. `backplan testday` has the sheet for the day.\n\n" +
           report::cautions_text(plan);
  io::Json json;
  json["candidate"] = plan.candidate;
  json["weeks"] = io::Json::array();
  return io::pretty(json);
}

std::string assumptions_answer(const Plan& plan, Output output) {
  if (output == Output::text) return report::assumptions_text(plan);
  io::Json json;
  json["candidate"] = plan.candidate;
  json["assumptions"] = io::assumptions_json(plan.assumptions);
  return io::pretty(json);
}

std::string whole_text(const Plan& plan, const report::Names& names, const Beside& beside) {
  std::string text = refusal_above(plan);
  if (!plan.weeks.empty()) text += report::weeks_text(plan, names) + '\n';
  for (const PlannedWeek& week : plan.weeks) text += report::week_text(week, names, beside.notes) + '\n';
  return text + report::cautions_text(plan);
}

void warn_of_changed_data(const Plan& plan, const Knowledge& now, std::ostream& err) {
  if (plan.standard_hash == now.standard.content_hash &&
      plan.model_hash == defaults_hash(now.model, now.rules))
    return;
  tell_warning("the standard or the defaults have changed since this plan was made",
               "`backplan plan` makes it anew", err);
}

// The candidate of the folder as it is now. None, with a warning, where it cannot be read: a plan on the wall
// must not depend on it.
std::optional<Candidate> candidate_beside(const Session& session, const report::Names& names) {
  const std::string name = session.file("candidate.json").string();
  if (!store::is_file(name)) return std::nullopt;
  const auto text = store::read_file(name, io::kMostJsonBytes);
  if (text.ok()) {
    auto read = io::read_candidate(text.value(), name, names.standard, names.model, session.as_of,
                                   io::TestOver::allowed);
    if (read.ok()) return std::move(read).value();
  }
  tell_warning(name + " cannot be read: work that it takes off is not marked here",
               "`backplan score` names its faults", session.streams.err);
  return std::nullopt;
}

Result<Beside> read_beside(const Session& session, const Plan& plan, const report::Names& names,
                           const Rules& rules) {
  const auto standing = read_standing(session, names.standard, names.model);
  if (!standing.ok()) return standing.faults();
  const Candidate candidate = candidate_beside(session, names).value_or(Candidate{});
  const Model own = suited_model(names.model, names.standard);
  return beside_of(plan, standing.value().entries, candidate, own, suited_rules(rules, own).pain,
                   session.as_of);
}

// plan.json as it is.
std::string stored_text(const Session& session) {
  return store::read_file(session.file("plan.json").string(), io::kMostJsonBytes).value();
}

std::string answer_of(const Plan& plan, const ShowOptions& options, const report::Names& names,
                      const Beside& beside, const Session& session) {
  switch (options.part) {
    case ShowOptions::Part::week:
      if (!plan.refused.empty() && (!options.week || plan.weeks.empty()))
        return refusal_answer(plan, names, beside, session);
      if (!options.week && session.as_of == plan.test_date)
        return test_day_answer(plan, names, beside, session);
      return week_answer(wanted_week(plan, options, session.as_of), plan, names, beside, session);
    case ShowOptions::Part::day:
      return day_answer(options.date.value_or(session.as_of), plan, names, beside, session);
    case ShowOptions::Part::assumptions:
      return assumptions_answer(plan, session.output);
    case ShowOptions::Part::all:
      return session.json() ? stored_text(session) : whole_text(plan, names, beside);
  }
  return {};
}

}  // namespace

int show(const Session& session, const ShowOptions& options) {
  const auto read = read_stored_plan(session);
  if (!read.ok()) return refuse(read.faults(), session);
  const Plan& plan = read.value();
  const Library library(session.environment);
  const auto standard = library.standard(plan.standard);
  if (!standard.ok()) return refuse(standard.faults(), session);
  const auto model = library.model();
  if (!model.ok()) return refuse(model.faults(), session);
  const auto rules = library.rules();
  if (!rules.ok()) return refuse(rules.faults(), session);
  warn_of_changed_data(plan, {standard.value(), model.value(), rules.value()}, session.streams.err);
  const report::Names names{standard.value(), model.value()};
  const auto beside = read_beside(session, plan, names, rules.value());
  if (!beside.ok()) return refuse(beside.faults(), session);
  session.streams.out << answer_of(plan, options, names, beside.value(), session);
  return plan.refused.empty() ? kExitDone : kExitAnswerIsNo;
}

}  // namespace backplan::cli

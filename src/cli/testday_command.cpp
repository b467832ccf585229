#include <fmt/format.h>

#include <algorithm>
#include <ostream>

#include "backplan/test_day.hpp"
#include "backplan/work_off.hpp"
#include "cli/commands.hpp"
#include "cli/past.hpp"
#include "cli/workspace.hpp"
#include "io/test_day_json.hpp"
#include "io/test_day_reader.hpp"
#include "io/value_text.hpp"
#include "report/test_day_text.hpp"
#include "report/words.hpp"
#include "store/files.hpp"

namespace backplan::cli {
namespace {

constexpr int kMostRestMinutes = 120;

template <class T>
T read_option(const io::Reading<T>& reading, const std::string& option) {
  if (!reading.value) throw UsageError(fmt::format("{}: {}", option, reading.problem), reading.hint);
  return *reading.value;
}

int minutes_of(const std::string& text, const std::string& option) {
  const auto number = io::read_decimal(text);
  const int minutes =
      number && *number >= 0.0 && *number <= kMostRestMinutes ? static_cast<int>(*number) : -1;
  if (minutes < 0 || static_cast<double>(minutes) != *number) {
    throw UsageError(
        fmt::format("{}: \"{}\" is no whole number of minutes from 0 to {}", option, text, kMostRestMinutes),
        "such as --rest 5 --rest-before-last 10");
  }
  return minutes;
}

// "2MR=17:00".
std::pair<std::string, double> aim_of(const std::string& text, const Standard& standard,
                                      const TestDayModel& model) {
  const std::size_t at = text.find('=');
  const std::string id = text.substr(0, at);
  const Event* event = standard.find_event(id);
  if (at == std::string::npos || event == nullptr) {
    std::vector<std::string> ids;
    for (const Event& one : standard.events) ids.push_back(one.id);
    throw UsageError(fmt::format("--aim: \"{}\" is not EVENT=RESULT", text),
                     fmt::format("such as --aim {}=RESULT; events: {}", ids.front(), fmt::join(ids, ", ")));
  }
  const auto how = model.events.find(event->model_event);
  if (how != model.events.end() &&
      (how->second.kind == DayKind::tries || how->second.kind == DayKind::throws ||
       how->second.kind == DayKind::plain))
    throw UsageError(fmt::format("--aim: {} has no clock to aim by", id),
                     "its tries follow from the forecast");
  return {id, read_option(io::read_result(text.substr(at + 1), *event), "--aim " + id)};
}

TestDaySettings settings_of(const TestDayOptions& options, const Standard& standard,
                            const TestDayModel& model) {
  TestDaySettings out;
  if (!options.heat.empty()) out.place.wbgt_c = read_option(io::read_temperature(options.heat), "--heat");
  if (!options.altitude.empty())
    out.place.altitude = read_option(io::read_distance(options.altitude), "--altitude");
  if (!options.rest.empty()) out.rest_between = minutes_of(options.rest, "--rest");
  if (!options.rest_before_last.empty())
    out.rest_before_last = minutes_of(options.rest_before_last, "--rest-before-last");
  for (const std::string& aim : options.aims) out.aims.insert(aim_of(aim, standard, model));
  return out;
}

// A plan for this candidate and this test.
bool fits(const Plan& plan, const Candidate& candidate) {
  return plan.candidate == candidate.id && plan.standard == candidate.standard &&
         plan.category == candidate.category && plan.test_date == candidate.test_date;
}

struct Forecast {
  DayForecast day;
  std::string basis;  // for people
};

Result<Forecast> forecast_for(const Session& session, const Workspace& files, const History& history) {
  const Candidate& candidate = files.candidate;
  if (!refusal(candidate, session.as_of).empty()) return Forecast{};  // then there is no sheet
  if (store::is_file(session.file("plan.json").string())) {
    const auto stored = read_stored_plan(session);
    if (!stored.ok()) return stored.faults();
    const Plan& plan = stored.value();
    if (fits(plan, candidate) && plan.refused.empty()) {
      if (plan.basis != history.basis)
        tell_warning("plan.json does not know what was done since it was made",
                     "`backplan replan` takes it in", session.streams.err);
      return Forecast{day_forecast(plan, files.standard, files.model),
                      fmt::format("Forecast of the plan of {}.", report::short_date(plan.as_of))};
    }
    tell_warning(fits(plan, candidate)
                     ? "plan.json is of a day on which no plan was made: the sheet does without it"
                     : "plan.json is of another candidate or test: the sheet does without it",
                 "`backplan plan` makes one for this test", session.streams.err);
  }
  const auto states = history.empty()
                          ? fit_progress(candidate, files.standard, files.model, session.as_of)
                          : fit_progress(candidate, files.standard, files.model, session.as_of, history);
  return Forecast{
      day_forecast(states, candidate, files.standard, files.model),
      fmt::format("Without a plan: the level of {}, held to the day.", report::short_date(session.as_of))};
}

// Pain that has taken work off is told on the sheet, before everything else.
void add_pain(TestDaySheet& sheet, const Workspace& files, const History& history, Date as_of) {
  for (const PainStop& stop : pain_of(history.entries, files.model, files.rules.pain, as_of)) {
    sheet.cautions.insert(
        sheet.cautions.begin(),
        fmt::format("Pain ({}) has taken work off since {}: see licensed staff before the test.",
                    report::printable(stop.region), report::short_date(stop.since)));
  }
}

// Those of events that concern this standard, and those of none.
std::vector<Assumption> assumptions_of(const TestDayModel& day, const Workspace& files) {
  const auto concerns = [&files](const std::string& event) {
    const auto& work = files.model.work;
    return files.standard.first_of_model(event) != nullptr ||
           std::any_of(work.begin(), work.end(), [&](const WorkKind& kind) { return kind.trains == event; });
  };
  std::vector<Assumption> out;
  for (const Assumption& one : day.assumptions) {
    const std::size_t from = one.name.find('.') + 1;  // "test_day.MDL.cue"
    const std::string event = one.name.substr(from, one.name.find('.', from) - from);
    if (day.events.count(event) == 0 || concerns(event)) out.push_back(one);
  }
  return out;
}

}  // namespace

int testday(const Session& session, const TestDayOptions& options) {
  const auto workspace = read_workspace(session);
  if (!workspace.ok()) return refuse(workspace.faults(), session);
  const Workspace& files = *workspace.value();
  const auto model = Library(session.environment).test_day();
  if (!model.ok()) return refuse(model.faults(), session);
  const auto history = read_history(session, workspace.value());
  if (!history.ok()) return refuse(history.faults(), session);
  const TestDaySettings settings = settings_of(options, files.standard, model.value());
  const auto forecast = forecast_for(session, files, history.value());
  if (!forecast.ok()) return refuse(forecast.faults(), session);
  TestDaySheet sheet = make_test_day_sheet(forecast.value().day, files.candidate, files.standard, files.model,
                                           model.value(), session.as_of, settings);
  if (sheet.refused.empty()) {
    add_pain(sheet, files, history.value(), session.as_of);
    for (std::string& one : cautions_of(stale_results(files.candidate, history.value().entries,
                                                      files.standard, files.model, session.as_of)))
      sheet.cautions.push_back(std::move(one));
  }
  const std::string& basis = forecast.value().basis;
  session.streams.out << (session.json()
                              ? io::pretty(io::test_day_json(sheet, files.standard, basis,
                                                             assumptions_of(model.value(), files)))
                              : report::test_day_text(sheet, {files.standard, files.model}, basis));
  return sheet.refused.empty() ? kExitDone : kExitAnswerIsNo;
}

}  // namespace backplan::cli

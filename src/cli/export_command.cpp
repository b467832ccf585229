#include <fmt/format.h>

#include <algorithm>
#include <ostream>

#include "backplan/replan.hpp"
#include "cli/beside.hpp"
#include "cli/commands.hpp"
#include "cli/export_parts.hpp"
#include "cli/past.hpp"
#include "cli/workspace.hpp"
#include "io/json_write.hpp"
#include "report/html_report.hpp"
#include "report/plan_exports.hpp"
#include "store/files.hpp"
#include "store/workbook_file.hpp"

namespace backplan::cli {
namespace {

constexpr const char* kToStandardOutput = "-";

// Everything that an export is made from.
struct Source {
  std::shared_ptr<const Workspace> files;
  Plan plan;
  History history;
};

Result<Source> read_source(const Session& session) {
  auto plan = read_stored_plan(session);
  if (!plan.ok()) return plan.faults();
  auto files = read_workspace(session, io::TestOver::allowed);
  if (!files.ok()) return files.faults();
  auto history = read_history(session, files.value());
  if (!history.ok()) return history.faults();
  return Source{files.value(), plan.value(), history.value()};
}

std::vector<Evidence> shown_by(const Source& source) {
  const Workspace& files = *source.files;
  std::vector<Evidence> shown = evidence_of(files.candidate.results, files.standard, files.model);
  for (const Done& entry : source.history.entries) {
    if (const auto one = evidence_of(entry, files.standard, files.model)) shown.push_back(*one);
  }
  return shown;
}

Beside beside(const Source& source, const Session& session) {
  const Workspace& files = *source.files;
  return beside_of(source.plan, source.history.entries, files.candidate, files.model, files.rules.pain,
                   session.as_of);
}

report::ReportInput report_input(const Source& source, const Session& session) {
  const Workspace& files = *source.files;
  Beside now = beside(source, session);
  return {source.plan,      files.candidate,      {files.standard, files.model}, source.history.entries,
          shown_by(source), std::move(now.stops), std::move(now.notes),          session.as_of};
}

std::string html_of(const Source& source, const ExportOptions& options, const Session& session) {
  const report::ReportInput input = report_input(source, session);
  if (!options.week) return report::html_report(input);
  for (const PlannedWeek& week : source.plan.weeks) {
    if (week.index == *options.week) return report::html_week(input, week);
  }
  throw UsageError(fmt::format("this plan has no week {}", *options.week),
                   "weeks count back from the test: `backplan show --all` lists them");
}

std::string bytes_of(const Source& source, const ExportOptions& options, const Session& session) {
  const report::Names names{source.files->standard, source.files->model};
  const report::OffByDay off = beside(source, session).notes.off;
  switch (options.kind) {
    case ExportOptions::Kind::html:
      return html_of(source, options, session);
    case ExportOptions::Kind::ics:
      return io::write_calendar(report::plan_calendar(source.plan, names, {options.starts, options.alarms},
                                                      BACKPLAN_VERSION,
                                                      report::news_of(off, source.history.entries)));
    case ExportOptions::Kind::csv:
      return io::write_csv(report::days_sheet(source.plan, names, off),
                           options.mark ? io::ByteOrderMark::first : io::ByteOrderMark::none);
    case ExportOptions::Kind::xlsx:
      return store::workbook_bytes(report::plan_sheets(source.plan, names, off), source.plan.as_of);
  }
  return {};
}

bool is_squad_folder(const Session& session) {
  const auto has = [&](const char* name) { return store::is_file(session.file(name)); };
  return !has("candidate.json") && !has("plan.json") && (has("squad.json") || has("programme.json"));
}

void refuse_options_of_squads(const ExportOptions& options) {
  const std::string hint = "-C DIR names the working folder; a squad's has squad.json";
  if (!options.person.empty()) throw UsageError("--person is for a squad's folder", hint);
  if (options.week && options.kind == ExportOptions::Kind::xlsx)
    throw UsageError("--week with xlsx is for a squad's folder: a candidate's workbook has all the weeks",
                     hint);
}

// Whoever writes a journal or a roster over has lost it.
void refuse_own_files(const std::string& file, const Session& session) {
  for (const char* own : kOwnFiles) {
    if (!store::is_same_place(file, session.file(own))) continue;
    throw UsageError(fmt::format("{} is the working folder's own {}: nothing was written", file, own),
                     "give -o another name");
  }
}

}  // namespace

int export_plan(const Session& session, const ExportOptions& options) {
  if (options.file != kToStandardOutput) refuse_own_files(options.file, session);
  if (is_squad_folder(session)) return export_squad(session, options);
  refuse_options_of_squads(options);
  const auto source = read_source(session);
  if (!source.ok()) return refuse(source.faults(), session);
  return hand_out(bytes_of(source.value(), options, session), session, options);
}

int hand_out(const std::string& bytes, const Session& session, const ExportOptions& options) {
  if (options.file == kToStandardOutput) {
    session.streams.out << bytes;
    return kExitDone;
  }
  io::Json json;
  json["file"] = options.file;
  json["bytes"] = bytes.size();
  const std::string answer =
      session.json() ? io::pretty(json)
                     : fmt::format("Written: {} ({} kB)\n", options.file, (bytes.size() + 1023) / 1024);
  // Pipes and devices lead to whoever reads the bytes, who would take this line for one of them.
  const bool to_reader = store::is_pipe_or_device(options.file);
  store::write_where_named(options.file, bytes);
  if (to_reader) {
    session.streams.err << answer;
  } else {
    answer_change(answer, options.file + " is written", session);
  }
  return kExitDone;
}

}  // namespace backplan::cli

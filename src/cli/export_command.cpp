#include <fmt/format.h>

#include <algorithm>
#include <ostream>

#include "backplan/replan.hpp"
#include "cli/beside.hpp"
#include "cli/commands.hpp"
#include "cli/past.hpp"
#include "cli/workspace.hpp"
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

report::ReportInput report_input(const Source& source, const Session& session) {
  const Workspace& files = *source.files;
  Beside beside = beside_of(source.plan, source.history.entries, files.candidate, files.model,
                            files.rules.pain, session.as_of);
  return {source.plan,      files.candidate,         {files.standard, files.model}, source.history.entries,
          shown_by(source), std::move(beside.stops), std::move(beside.notes),       session.as_of};
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
  switch (options.kind) {
    case ExportOptions::Kind::html:
      return html_of(source, options, session);
    case ExportOptions::Kind::ics:
      return io::write_calendar(
          report::plan_calendar(source.plan, names, {options.starts, options.alarms}, BACKPLAN_VERSION));
    case ExportOptions::Kind::csv:
      return io::write_csv(report::days_sheet(source.plan, names),
                           options.mark ? io::ByteOrderMark::first : io::ByteOrderMark::none);
    case ExportOptions::Kind::xlsx:
      return store::workbook_bytes(report::plan_sheets(source.plan, names), source.plan.as_of);
  }
  return {};
}

}  // namespace

int export_plan(const Session& session, const ExportOptions& options) {
  const auto source = read_source(session);
  if (!source.ok()) return refuse(source.faults(), session);
  const std::string bytes = bytes_of(source.value(), options, session);
  if (options.file == kToStandardOutput) {
    session.streams.out << bytes;
    return kExitDone;
  }
  store::write_atomically(options.file, bytes);
  if (session.json()) {
    session.streams.out << fmt::format("{{\"file\": \"{}\", \"bytes\": {}}}\n", options.file, bytes.size());
  } else {
    session.streams.out << fmt::format("Written: {} ({} kB)\n", options.file, (bytes.size() + 1023) / 1024);
  }
  return kExitDone;
}

}  // namespace backplan::cli

// A squad's programme as a page, a calendar or a spreadsheet.
#include "cli/export_parts.hpp"
#include "cli/stored_squad.hpp"
#include "report/html_squad.hpp"
#include "report/squad_exports.hpp"
#include "report/squad_text.hpp"
#include "store/workbook_file.hpp"

namespace backplan::cli {
namespace {

std::string html_of(const report::SquadInput& input, const ExportOptions& options) {
  return options.week ? report::html_squad_week(input, known_week(input.programme, *options.week))
                      : report::html_squad(input);
}

std::string calendar_of(const StoredSquad& stored, const ExportOptions& options) {
  const report::CalendarWishes wishes{options.starts, options.alarms};
  return io::write_calendar(
      options.person.empty()
          ? report::squad_calendar(stored.programme, stored.names(), wishes, BACKPLAN_VERSION)
          : report::person_calendar(stored.programme, person_of(stored.programme, options.person),
                                    stored.names(), wishes, BACKPLAN_VERSION));
}

std::string workbook_of(const StoredSquad& stored, const ExportOptions& options, Date today) {
  const Programme& programme = stored.programme;
  const report::DaySpan span = options.week
                                   ? report::week_span(programme, known_week(programme, *options.week))
                                   : report::two_weeks_from(programme, today);
  return store::workbook_bytes(report::squad_sheets(programme, stored.names(), span), programme.as_of);
}

std::string bytes_of(const StoredSquad& stored, const ExportOptions& options, Date today) {
  switch (options.kind) {
    case ExportOptions::Kind::html:
      return html_of({stored.programme, stored.names(), today}, options);
    case ExportOptions::Kind::ics:
      return calendar_of(stored, options);
    case ExportOptions::Kind::csv:
      return io::write_csv(report::squad_sheet(stored.programme, stored.names()),
                           options.mark ? io::ByteOrderMark::first : io::ByteOrderMark::none);
    case ExportOptions::Kind::xlsx:
      return workbook_of(stored, options, today);
  }
  return {};
}

}  // namespace

int export_squad(const Session& session, const ExportOptions& options) {
  const auto stored = read_stored_squad(session);
  if (!stored.ok()) return refuse(stored.faults(), session);
  return hand_out(bytes_of(stored.value(), options, session.as_of), session, options);
}

}  // namespace backplan::cli

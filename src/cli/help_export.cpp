#include "cli/help_parts.hpp"

namespace backplan::cli {
namespace {

constexpr std::string_view kExport =
    R"(  backplan export html -o plan.html           the whole plan as one page: open it, print it, send it
  backplan export ics -o plan.ics             days of training for a calendar
  backplan export csv -o plan.csv             one block of work a row
  backplan export xlsx -o plan.xlsx           the same, the weeks and the events as sheets
  backplan export html -C larch -o larch.html a squad's programme, in a squad's folder

From plan.json, with the results and the journal beside it; in a folder with squad.json and no
candidate.json from programme.json. `backplan export html --help` and its fellows have more examples
and the options.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kExportHtml =
    R"(  backplan export html -o plan.html           the whole plan as one page
  backplan export html --week 6 -o week6.html one week on one sheet of paper
  backplan export html -o - > plan.html       on standard output
  backplan export html -C larch --week 12 -o field.html
                                              a squad's week: mornings and personal sheets to print

The plan as one page that needs no network and runs no scripts: the answer first, then where the
points come from, how likely each total is, where the next points are cheapest, the weeks, and loads
and results over time. For a squad: how many would pass, who is at risk, the groups and their week,
the weeks, then the mornings from minute to minute and everybody's sheet for this week and the next.
Light and dark, for phones and for paper: in print a week is a page, and so is a squad's morning;
personal sheets are several to a page.

Options: -o, --output FILE (- is standard output), --week N (this week alone, counted back from the
test), -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kExportIcs =
    R"(  backplan export ics -o plan.ics             whole days
  backplan export ics --at 06:30 --alarms -o plan.ics
  backplan export ics -C larch --at 06:30 -o mornings.ics
  backplan export ics -C larch --person L-07 -o juniper.ics

Days of training for a calendar, and the test; for a squad the common mornings. The events stay the
same over re-plans: the same day has the same UID, a changed plan a higher SEQUENCE, a day without
training any more is cancelled. Calendar programs differ: some take the changes over, some make
doubles; then remove the old calendar and take the new file whole.

Options: -o, --output FILE (- is standard output), --at HH:MM (sessions begin then, wherever you
are; without it they are whole days), --alarms (30 minutes before, or at 6 in the morning of a
whole day), --person ID (of a squad: this one's part, with the short extras at home), -C DIR,
--as-of DATE, --json
)";

constexpr std::string_view kExportCsv =
    R"(  backplan export csv -o plan.csv             one block of work a row
  backplan export csv --bom -o plan.csv       for spreadsheets that guess the charset
  backplan export csv -C larch -o larch.csv   a squad: one row a person and station

The plan as a table. A cell that a spreadsheet would run as a formula has an apostrophe in front.

Options: -o, --output FILE (- is standard output), --bom (a byte-order mark first), -C DIR, --as-of
DATE, --json
)";

constexpr std::string_view kExportXlsx =
    R"(  backplan export xlsx -o plan.xlsx           days, weeks and events as sheets of a workbook
  backplan export xlsx -C larch -o larch.xlsx a squad: week, sheets, risk list, groups, all
  backplan export xlsx -C larch --week 8 -o week8.xlsx

The plan for a spreadsheet. Heads stay in view and are repeated in print. The first two sheets of a
squad are of this week and the next.

Options: -o, --output FILE (- is standard output), --week N (of a squad: the first two sheets are of
this week, counted back from the test), -C DIR, --as-of DATE, --json
)";

}  // namespace

std::vector<HelpText> export_help() {
  return {
      {"export", kExport},        {"export html", kExportHtml}, {"export ics", kExportIcs},
      {"export csv", kExportCsv}, {"export xlsx", kExportXlsx},
  };
}

}  // namespace backplan::cli

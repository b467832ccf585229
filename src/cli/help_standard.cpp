#include "cli/help_parts.hpp"

namespace backplan::cli {
namespace {

constexpr std::string_view kStandard = R"(  backplan standard list
  backplan standard show us-army-aft
  backplan standard show us-army-aft --event 2MR --column female
  backplan standard check run.csv --standard us-army-aft --event 2MR --column female
  backplan standard import run.csv --standard us-army-aft --event 2MR --column female

The official tests, where each row of their scales comes from, and the way to put the rows of an
official table in the place of weaker ones. `backplan standard import --help` says more.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kStandardList = R"(  backplan standard list
  backplan standard list --json

The standards built in and those in your own folder ($XDG_DATA_HOME/backplan/standards).

Options: --json
)";

constexpr std::string_view kStandardShow = R"(  backplan standard show us-army-aft
  backplan standard show us-army-aft --event 2MR --column female

Events, categories and protocol of a standard; with an event and a column its scale, each doubtful
row marked.

Options: --event E, --column C, --json
)";

constexpr std::string_view kStandardCheck =
    R"(  backplan standard check run.csv --standard us-army-aft --event 2MR --column female
  backplan standard check all.csv --standard us-army-aft

Reads a table as it stands in an official document (rows points, columns age bands; one file an
event and column), or the long form with the columns event,column,age_min,age_max,points,result,
and tells every fault. Writes nothing. Exit code 1 when there are faults.

Options: --standard ID, --event E, --column C, --json
)";

constexpr std::string_view kStandardImport =
    R"(  backplan standard import run.csv --standard us-army-aft --event 2MR --column female
  backplan standard import all.csv --standard us-army-aft
  backplan standard import run.csv --standard us-army-aft --event 2MR --column female --trust-file

Checks the table as `standard check` does and, only if it is whole and sound, puts its rows in the
place of weaker ones, in your own folder ($XDG_DATA_HOME/backplan/standards). With --trust-file it
also wins over published rows that it contradicts.

Options: --standard ID, --event E, --column C, --trust-file, --json
)";

}  // namespace

std::vector<HelpText> standard_help() {
  return {
      {"standard", kStandard},
      {"standard list", kStandardList},
      {"standard show", kStandardShow},
      {"standard check", kStandardCheck},
      {"standard import", kStandardImport},
  };
}

}  // namespace backplan::cli

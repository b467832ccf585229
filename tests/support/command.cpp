#include "support/command.hpp"

#include <chrono>
#include <sstream>

#include "cli/run.hpp"
#include "support/journal_entries.hpp"

namespace backplan::support {

Answer run_command(const std::vector<std::string>& arguments, const std::string& input,
                   const std::string& data_home, Ids ids) {
  std::istringstream in(input);
  std::ostringstream out;
  std::ostringstream err;
  cli::Environment environment;
  if (!data_home.empty()) environment.variables["XDG_DATA_HOME"] = data_home;
  environment.today = Date(std::chrono::year(2026) / std::chrono::month(11) / std::chrono::day(30));
  int counted = 0;
  if (ids == Ids::counted) {
    environment.new_id = [&counted] { return id_number(++counted); };
  }
  const int code = cli::run(arguments, {in, out, err}, environment);
  return {code, out.str(), err.str()};
}

std::string army_candidate() {
  return R"({ "format": "backplan-candidate/1", "id": "A-07", "birth_date": "1998-04-17", "column": "female",
  "standard": "us-army-aft", "category": "general", "test_date": "2027-03-08", "target": { "total": 400 },
  "results": [
    { "date": "2026-11-20", "event": "MDL", "value": "170 lb", "setting": "practice" },
    { "date": "2026-11-20", "event": "HRP", "value": "24", "setting": "practice" },
    { "date": "2026-11-20", "event": "SDC", "value": "2:20", "setting": "practice" },
    { "date": "2026-11-20", "event": "PLK", "value": "1:50", "setting": "practice" },
    { "date": "2026-11-20", "event": "2MR", "value": "18:30", "setting": "practice" } ],
  "week": { "mon": 60, "tue": 60, "wed": 0, "thu": 60, "fri": 60, "sat": 45, "sun": 0 } }
)";
}

}  // namespace backplan::support

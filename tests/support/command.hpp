// Runs the program inside the test: arguments and files in, exit code and texts out.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace backplan::support {

struct Answer {
  int code = 0;
  std::string out;
  std::string err;
};

// Ids of new entries: from the clock, or 1, 2, 3 in each run, so that an answer can be compared.
enum class Ids { real, counted };

// Today is Mon 30 Nov 2026. `data_home` is the user's XDG_DATA_HOME ("" for none at all).
[[nodiscard]] Answer run_command(const std::vector<std::string>& arguments, const std::string& input = {},
                                 const std::string& data_home = {}, Ids ids = Ids::real);

// A candidate of the built-in standard us-army-aft with a result in every event, test 8 Mar 2027.
[[nodiscard]] std::string army_candidate();

}  // namespace backplan::support

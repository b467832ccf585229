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

// Today is Mon 30 Nov 2026. `data_home` is the user's XDG_DATA_HOME ("" for none at all).
[[nodiscard]] Answer run_command(const std::vector<std::string>& arguments, const std::string& input = {},
                                 const std::string& data_home = {});

// A candidate of the built-in standard us-army-aft with a result in every event, test 8 Mar 2027.
[[nodiscard]] std::string army_candidate();

}  // namespace backplan::support

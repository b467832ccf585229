// The words of the command line.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lab/cohort.hpp"

namespace backplan::lab {

enum class Mode { cohort, regret, agreement };

struct Options {
  Mode mode = Mode::cohort;
  CohortSize cohort;
  bool cells = false;
  std::string program = "backplan";  // for the agreement
  // One number of minutes, where there is room for one only: the middle of those asked for.
  [[nodiscard]] int middle() const { return cohort.minutes[cohort.minutes.size() / 2]; }
};

// None: not understood.
[[nodiscard]] std::optional<Options> read_options(const std::vector<std::string>& words);
[[nodiscard]] std::string usage();

}  // namespace backplan::lab

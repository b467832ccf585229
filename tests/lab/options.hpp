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
  std::string program;  // for the agreement: backplan itself
};

// None: not understood.
[[nodiscard]] std::optional<Options> read_options(const std::vector<std::string>& words);
[[nodiscard]] std::string usage();

}  // namespace backplan::lab

// The plan made anew every week, by the library and by the program itself with its files: both must say the
// same.
#pragma once

#include <cstdint>
#include <string>

#include "backplan/planner.hpp"

namespace backplan::lab {

struct AgreementSize {
  int people = 100;
  std::uint64_t seed = 1;
  int threads = 2;
  int minutes = 120;
  std::string program;  // backplan
};

struct Agreement {
  int people = 0, weeks = 0;  // that were planned both ways
  int different_weeks = 0;
  std::string first_difference;
};

[[nodiscard]] Agreement compare_ways(const AgreementSize& size, const Knowledge& knowledge);
[[nodiscard]] std::string to_text(const Agreement& agreement);

}  // namespace backplan::lab

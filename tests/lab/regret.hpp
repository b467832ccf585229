// What each default that is a judgement costs when the truth is a quarter off from it: which of them matter.
#pragma once

#include <string>

#include "backplan/planner.hpp"

namespace backplan::lab {

struct RegretSize {
  int people = 12;
  std::uint64_t seed = 1;
  int threads = 2;
  int minutes = 120;
};

// Of the standard's events and of what all events share. Points that the plan by the shipped default loses
// against the best plan by the true one, on average over invented people.
[[nodiscard]] std::string regret_table(const RegretSize& size, const Standard& standard, const Rules& rules);

}  // namespace backplan::lab

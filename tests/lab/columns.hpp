// The figures of some cells of a cohort, person by person.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "lab/cohort.hpp"
#include "lab/statistics.hpp"

namespace backplan::lab {

// Some families (none: all of them) with one number of minutes.
struct Cells {
  std::optional<std::size_t> family;
  std::size_t minutes = 0;
};

using Figure = double (*)(const Outcome&);
[[nodiscard]] std::vector<double> column(const Cohort& cohort, const Cells& cells, std::size_t way,
                                         Figure figure);
// Where a way stands in the cohort's list; none: it was not run.
[[nodiscard]] std::optional<std::size_t> place_of(const Cohort& cohort, Way way);
[[nodiscard]] double gained(const Outcome& outcome);
[[nodiscard]] double passed(const Outcome& outcome);
[[nodiscard]] double reached(const Outcome& outcome);
[[nodiscard]] double minutes_done(const Outcome& outcome);

// Minutes a week with which one way's total reaches the target, by straight lines between the numbers that
// were run, from doing nothing on; none: not with the most.
[[nodiscard]] std::optional<double> minutes_for_target(const Cohort& cohort, std::size_t way,
                                                       std::size_t family, int person);

// Of those who reach it either way but not by doing nothing: minutes by plan and by equal split.
struct SameTarget {
  std::vector<double> plan, equal;
  int only_plan = 0, only_equal = 0;  // who reach it by one of them only
};
[[nodiscard]] SameTarget same_target(const Cohort& cohort);

}  // namespace backplan::lab

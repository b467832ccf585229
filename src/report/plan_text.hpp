// The screen of `backplan plan`: the answer first, then what it takes, then the weeks.
#pragma once

#include <string>
#include <vector>

#include "backplan/plan.hpp"
#include "report/names.hpp"

namespace backplan::report {

// The whole screen, at most kPageWidth columns wide.
[[nodiscard]] std::string plan_text(const Plan& plan, const Names& names);

// Its table of the weeks, one line each: several where the events of one do not fit on a page side by side.
[[nodiscard]] std::string weeks_text(const Plan& plan, const Names& names);

// What the search for ways out found, and where it found nothing; a line each.
[[nodiscard]] std::vector<std::string> ways_out_lines(const Plan& plan, const Names& names);

// Whether any training is planned at all.
[[nodiscard]] bool has_blocks(const Plan& plan);

// "two-mile run (2MR), intervals".
[[nodiscard]] std::string given_up_name(const GivenUp& one, const Names& names);

// What a total is: " in all", or " on average" where it is the mean of the events.
[[nodiscard]] std::string over_all(const Standard& standard);
// "440 in all, 60 in each event, 70 in deadlift (MDL)".
[[nodiscard]] std::string target_text(const Target& target, const Names& names);

// One line on how near the plan is to the best that the rules allow, with value, bound and gap.
[[nodiscard]] std::string optimality_text(const Optimality& optimality);

}  // namespace backplan::report

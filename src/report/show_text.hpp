// A plan's weeks, days and assumptions in full: `backplan show`, and the first week of `backplan plan`.
#pragma once

#include <string>

#include "backplan/plan.hpp"
#include "report/names.hpp"

namespace backplan::report {

// Every day of the week with its blocks: what, why, and when to stop.
[[nodiscard]] std::string week_text(const PlannedWeek& week, const Names& names);

// One day; says so when there is nothing to do on it.
[[nodiscard]] std::string day_text(const Plan& plan, Date date, const Names& names);

// Every default that was used, with its source and how far it can be trusted.
[[nodiscard]] std::string assumptions_text(const Plan& plan);

// What every sheet of a plan ends with: its cautions.
[[nodiscard]] std::string cautions_text(const Plan& plan);

}  // namespace backplan::report

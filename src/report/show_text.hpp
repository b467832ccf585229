// A plan's weeks, days and assumptions in full: `backplan show`, and the first week of `backplan plan`.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "backplan/journal.hpp"
#include "backplan/plan.hpp"
#include "report/names.hpp"

namespace backplan::report {

// What became of a planned day, in a word or two; days that are still to come have none.
using DayMarks = std::map<Date, std::string>;

// "done", "done in part", "missed (duty)", "nothing logged" for the days with work up to `today`, by what
// stands in the journal. Empty where there is no entry at all.
[[nodiscard]] DayMarks marks_of(const Plan& plan, const std::vector<Done>& entries, Date today);

// Every day of the week with its blocks: what, why, and when to stop.
[[nodiscard]] std::string week_text(const PlannedWeek& week, const Names& names, const DayMarks& marks = {});

// One day; says so when there is nothing to do on it.
[[nodiscard]] std::string day_text(const Plan& plan, Date date, const Names& names,
                                   const DayMarks& marks = {});

// Work that is off because of pain, and what may stand in for it: kinds that feed the same events and are
// not off themselves.
[[nodiscard]] std::string pain_text(const std::vector<PainStop>& stops, const Names& names);

// Every default that was used, with its source and how far it can be trusted.
[[nodiscard]] std::string assumptions_text(const Plan& plan);

// What every sheet of a plan ends with: its cautions.
[[nodiscard]] std::string cautions_text(const Plan& plan);

}  // namespace backplan::report

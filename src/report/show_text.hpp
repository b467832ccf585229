// A plan's weeks, days and assumptions in full: `backplan show`, and the first week of `backplan plan`.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "backplan/journal.hpp"
#include "backplan/plan.hpp"
#include "backplan/work_off.hpp"
#include "report/names.hpp"

namespace backplan::report {

// What became of a planned day, in a word or two; days that are still to come have none.
using DayMarks = std::map<Date, std::string>;

// "done", "done in part", "other work logged", "missed (duty)", "nothing logged" for the days with work that
// are over, "to come" for the others, by what stands in the journal. Empty where there is no entry at all.
[[nodiscard]] DayMarks marks_of(const Plan& plan, const std::vector<Done>& entries, Date today);

// Work that is off, by day, which the plan may not know of yet.
using OffByDay = std::map<Date, std::vector<WorkOff>>;

// What is known beside a plan.
struct DayNotes {
  DayMarks marks;
  OffByDay off;
};

// Why this work is off on this day; null where it is not.
[[nodiscard]] const WorkOff* off_on(const OffByDay& off, Date date, const std::string& work);

// Every day of the week with its blocks: what, why, and when to stop. A block that is off says that instead,
// and what may stand in.
[[nodiscard]] std::string week_text(const PlannedWeek& week, const Names& names, const DayNotes& notes = {});

// The days from `from` to before `until`, in full; a line a day for those of the same week before.
[[nodiscard]] std::string coming_text(const Plan& plan, Date from, Date until, const Names& names,
                                      const DayNotes& notes = {});

// One day; says so when there is nothing to do on it.
[[nodiscard]] std::string day_text(const Plan& plan, Date date, const Names& names,
                                   const DayNotes& notes = {});

// "march of 7.5 mi (12.0 km), 150 min (fixed)", of a day that has fixed work.
[[nodiscard]] std::string fixed_words(const PlannedDay& day);

// "OFF: pain (back). Instead: easy run, trunk." for the place of a prescription.
[[nodiscard]] std::string off_words(const WorkOff& off, const Names& names);

// What stands in for the work that is off, a sentence a kind of work.
[[nodiscard]] std::vector<std::string> instead_notices(const std::vector<WorkOff>& off, const Names& names);
// The same for a screen.
[[nodiscard]] std::string instead_text(const std::vector<WorkOff>& off, const Names& names);

// Every default that was used, with its source and how far it can be trusted.
[[nodiscard]] std::string assumptions_text(const Plan& plan);

// "No plan is made" and why; "" where there is a plan.
[[nodiscard]] std::string refused_text(const Plan& plan);

// What every sheet of a plan ends with: its cautions.
[[nodiscard]] std::string cautions_text(const Plan& plan);

}  // namespace backplan::report

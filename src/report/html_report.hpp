// One candidate's plan as a page to look at, to print and to pin on a wall.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/evidence.hpp"
#include "backplan/journal.hpp"
#include "backplan/plan.hpp"
#include "report/markup.hpp"
#include "report/names.hpp"
#include "report/show_text.hpp"

namespace backplan::report {

struct ReportInput {
  const Plan& plan;
  const Candidate& candidate;
  Names names;
  std::vector<Done> entries;    // of the journal, that stand
  std::vector<Evidence> shown;  // what results and entries say of the events
  std::vector<PainStop> stops;
  DayNotes notes;
  Date today;
};

[[nodiscard]] std::string html_report(const ReportInput& input);
// One week alone: a sheet of paper.
[[nodiscard]] std::string html_week(const ReportInput& input, const PlannedWeek& week);

// The parts, for pages that are made of several.
[[nodiscard]] Markup week_markup(const PlannedWeek& week, const Names& names, const DayNotes& notes);
[[nodiscard]] Markup weeks_at_a_glance(const Plan& plan, const Names& names);
[[nodiscard]] Markup courses_markup(const ReportInput& input);
[[nodiscard]] Markup assumptions_markup(const std::vector<Assumption>& assumptions);
// A bar as long as its share, 0 to 1; its figure stands beside it, so that it need not be read out.
[[nodiscard]] Markup meter(double share);
[[nodiscard]] Markup list_markup(const std::vector<std::string>& items);

}  // namespace backplan::report

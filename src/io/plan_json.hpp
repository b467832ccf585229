// plan.json: the finished plan as a file, written and read back. The keys are a promise to other
// programs (data/schema/plan.schema.json); more may be added, none may change.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "backplan/plan.hpp"
#include "backplan/planner.hpp"
#include "backplan/result.hpp"
#include "backplan/standard.hpp"
#include "io/json_write.hpp"

namespace backplan::io {

inline constexpr std::string_view kPlanFormat = "backplan-plan/1";

// The parts that other outputs share. Results stand in the event's unit with a `text` beside them.
[[nodiscard]] Json outlook_json(const Outlook& outlook, const Standard& standard);
// null where the plan is refused: then nothing is foretold.
[[nodiscard]] Json forecast_json(const Outlook& outlook, const Plan& plan, const Standard& standard);
[[nodiscard]] Json time_json(const Plan& plan);
[[nodiscard]] Json week_json(const PlannedWeek& week);
[[nodiscard]] Json day_json(const PlannedDay& day);
[[nodiscard]] Json assumptions_json(const std::vector<Assumption>& assumptions);
// {"work", "events", "points_per_hour"} over the weeks left, and the same for `this_week`.
[[nodiscard]] Json yield_json(const std::vector<YieldRow>& rows);

[[nodiscard]] std::string write_plan(const Plan& plan, const Standard& standard,
                                     const std::string& tool_version);

// Reads what write_plan wrote; writing it again gives the same bytes. Another format is refused with
// what to do. Keys that it does not know are left alone.
[[nodiscard]] Result<Plan> read_plan(std::string_view text, const std::string& file);

}  // namespace backplan::io

// Local search over a season: one week, or all equal weeks, at a time take another column while it pays.
#pragma once

#include <vector>

#include "core/event_value.hpp"
#include "core/week_groups.hpp"

namespace backplan {

struct FilledWeeks {
  std::vector<const Column*> columns;  // by week, from the pools of the groups
  double value = 0.0;
};

// From these columns, by week, to a season that no single exchange within the pools makes better.
[[nodiscard]] FilledWeeks exchange_weeks(const WeekGroups& groups, const std::vector<EventValue>& values,
                                         std::vector<const Column*> columns);

}  // namespace backplan

// Which readings of a history count as evidence of one event.
#pragma once

#include <vector>

#include "backplan/evidence.hpp"
#include "backplan/history.hpp"

namespace backplan {

// `level`: the event's best result, at which the spread of all its results is taken; otherwise a low
// result that gets better would also gain weight.
[[nodiscard]] Evidence read_result(const DatedResult& result, const Event& event, const EventModel& model,
                                   double level);

// All results of the candidate's file; of the journal one reading for each day (a result before a set, the
// surest one) and the strongest bound of each calendar week. By date and value, whatever the order of the
// entries. What the journal says again of the file counts once; entries after `as_of` do not count.
[[nodiscard]] std::vector<Evidence> readings_of(const std::vector<DatedResult>& results,
                                                const std::vector<Done>& entries, const Event& event,
                                                const Standard& standard, const Model& model, Date as_of);

}  // namespace backplan

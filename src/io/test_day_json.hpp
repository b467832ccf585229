// What `backplan testday --json` answers: data/schema/testday.schema.json.
#pragma once

#include <string>

#include "backplan/test_day.hpp"
#include "io/json_write.hpp"

namespace backplan::io {

// `basis`: what the forecast rests on, in a sentence.
[[nodiscard]] Json test_day_json(const TestDaySheet& sheet, const Standard& standard,
                                 const std::string& basis, const std::vector<Assumption>& assumptions);

}  // namespace backplan::io

// data/model/test_day.json, and what the options of `backplan testday` say of the place.
#pragma once

#include <string_view>
#include <vector>

#include "backplan/result.hpp"
#include "backplan/test_day.hpp"
#include "io/readers.hpp"
#include "io/value_text.hpp"

namespace backplan::io {

[[nodiscard]] Result<TestDayModel> read_test_day(const std::vector<DataFile>& files);

// "28 C", "28C", "84 F" as degrees Celsius. A bare number is a question.
[[nodiscard]] Reading<double> read_temperature(std::string_view text);

}  // namespace backplan::io

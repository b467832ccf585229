// The sheet of `backplan testday`: one page of paper.
#pragma once

#include <string>

#include "backplan/test_day.hpp"
#include "report/names.hpp"

namespace backplan::report {

inline constexpr std::size_t kSheetWidth = 80;  // columns of a sheet of paper
inline constexpr int kSheetLines = 66;          // of one page at six lines an inch

// `basis`: what the forecast rests on.
[[nodiscard]] std::string test_day_text(const TestDaySheet& sheet, const Names& names,
                                        const std::string& basis);

}  // namespace backplan::report

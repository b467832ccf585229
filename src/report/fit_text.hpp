// What the log taught, for people.
#pragma once

#include <string>
#include <vector>

#include "backplan/progress.hpp"
#include "report/names.hpp"

namespace backplan::report {

// "answers twice as fast as assumed", "answers about as fast as assumed"; "" while too little is known.
[[nodiscard]] std::string speed_text(const FitReport& report);

// An event a paragraph: level, what was learnt, where it is from, and the entries that hardly count, with
// their ids. "" without reports.
[[nodiscard]] std::string fit_text(const std::vector<FitReport>& reports, const Names& names);

}  // namespace backplan::report

// What the days before today leave to the rules: a plan that begins in the middle of a week, or after a
// run of build weeks, goes on from what was really done.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "backplan/history.hpp"
#include "backplan/rules.hpp"

namespace backplan {

// One day on record before today.
struct TrainedDay {
  Date date;
  bool hard = false, lift = false, intervals = false;
  std::map<std::string, int> sessions;  // by work kind
};

struct SoFar {
  std::vector<TrainedDay> days;    // with training, by date
  int build_weeks = 0;             // in a row, up to the week of today
  std::vector<int> build_minutes;  // of those weeks, as planned

  [[nodiscard]] const TrainedDay* on(Date date) const;
};

// Empty without a journal. `start`: the first day of the week of today, counted back from the test.
[[nodiscard]] SoFar so_far_of(const History& history, const Model& model, Date as_of, Date start);

}  // namespace backplan

// What was done day by day, and what it made of S and L in each event. docs/mathematics.md, "Dose from the
// journal".
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "backplan/history.hpp"
#include "backplan/progress.hpp"

namespace backplan {

// Fixed work that was logged without minutes and is not in the plan of that day (judgement).
inline constexpr int kUsualFixedMinutes = 60;

// Of one day before as_of.
struct DayDone {
  std::map<std::string, double> stimulus;  // by work kind
  double minutes = 0.0;
  bool hard = false;
  Metres longest_run{0.0};
};

// Every day from the record's first to the day before `as_of`; none without a record. A planned day that was
// neither logged nor marked missed counts with the model's share.
[[nodiscard]] std::vector<DayDone> days_done(const History& history, const Model& model, Date as_of);

// S and L of one event on each morning of the record. Days before it count as keep dose.
class DoseHistory {
 public:
  DoseHistory() = default;
  // `begins`: the date of days[0].
  DoseHistory(const std::vector<DayDone>& days, Date begins, const Model& model, const EventModel& event,
              const Dose& dose);

  [[nodiscard]] double s_on(Date morning) const;
  [[nodiscard]] double loss_on(Date morning) const;
  // Days up to the end of the record without enough work to hold the level; 0: it is held.
  [[nodiscard]] double gap_days() const { return gap_days_; }

 private:
  [[nodiscard]] static double at(const std::vector<double>& values, Date begins, Date morning);
  Date begins_;
  std::vector<double> s_, loss_;  // by morning; one more than days
  double gap_days_ = 0.0;
};

}  // namespace backplan

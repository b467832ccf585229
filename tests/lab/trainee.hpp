// What an invented person really does with a plan, and what they write about it.
#pragma once

#include "backplan/history.hpp"
#include "backplan/plan.hpp"
#include "lab/person.hpp"

namespace backplan::lab {

// Sessions are missed, illness comes, days are forgotten, minutes are rounded up, loads and times come with
// noise, some figures are plainly wrong. The same day brings the same luck whatever the plan.
class Trainee {
 public:
  Trainee(Person person, const Knowledge& knowledge);

  // One day by the plan, into the journal; none: nothing was planned.
  void live(const PlannedDay* planned, Date date);
  // Results at the end of a week: one event alone, every fourth week a whole practice test.
  void measure(Date date);

  [[nodiscard]] const Person& person() const { return person_; }
  [[nodiscard]] const History& history() const { return history_; }
  [[nodiscard]] History& history() { return history_; }
  [[nodiscard]] double minutes() const { return minutes_; }  // done so far

 private:
  void write(Date date, Deed what);

  Person person_;
  const Knowledge& knowledge_;
  History history_;
  double minutes_ = 0.0;
  int written_ = 0;
};

}  // namespace backplan::lab

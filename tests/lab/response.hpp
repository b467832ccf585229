// How the hidden body of an invented person answers to work. None of the families is the planner's own model
// but `as_assumed`, which is there to compare with. docs/laboratory.md has the formulas and their sources.
#pragma once

#include <array>
#include <cstddef>
#include <deque>
#include <string>
#include <vector>

#include "backplan/model.hpp"

namespace backplan::lab {

enum class Family { as_assumed, logarithmic, power, two_states, threshold, non_responder, changed_transfer };
[[nodiscard]] std::string to_string(Family family);  // "logarithmic", "two states", ...
// Those that the planner's model does not contain.
[[nodiscard]] const std::vector<Family>& strange_families();

// One event of one person. Growth, ceiling and loss are in v = ln(result), for times -ln(time).
struct Traits {
  Family family = Family::as_assumed;
  double start = 0.0;  // v on the first morning
  double h = 0.0;      // what there is to gain
  double k = 0.0;      // how fast, a week at the reference dose
  Dose dose;           // the marks of this person
  double loss_per_week = 0.0, grace_days = 0.0, loss_cap = 0.0;
  int shows_after_days = 7;  // what a day's work adds; not of the two states, which have their own delay
};

class Response {
 public:
  explicit Response(const Traits& traits);
  [[nodiscard]] double ability() const;  // on the morning of today
  void pass(double stimulus);            // a day with so much work for this event
  [[nodiscard]] const Traits& traits() const { return traits_; }

 private:
  static constexpr std::size_t kDaysInWeek = 7;
  [[nodiscard]] double dose_of(double week) const;  // 0 at the keep dose, 1 at the reference dose
  [[nodiscard]] double growth() const;
  void pass_loss(double week, double stimulus);

  Traits traits_;
  std::array<double, kDaysInWeek> last_{};  // days of the last week, in a ring
  std::size_t today_ = 0;
  std::deque<double> hidden_;             // what the last days added and does not show yet
  double dosage_ = 0.0;                   // weeks at the reference dose that show
  double fitness_ = 0.0, fatigue_ = 0.0;  // of the two states
  double loss_ = 0.0, gap_ = 0.0;         // in v; days under the keep dose
};

}  // namespace backplan::lab

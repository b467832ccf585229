// Changes a plan by hand and puts its figures right again, so that a test can break one rule at a
// time. It knows no training rule at all.
#pragma once

#include <string>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/rules.hpp"

namespace backplan::testing {

// Weeks counted back from the test, all `build`, without any training.
[[nodiscard]] Plan empty_plan(const Candidate& candidate, Date as_of);

class PlanEditor {
 public:
  // All must outlive the editor.
  PlanEditor(Plan& plan, const Candidate& candidate, const Model& model, const Rules& rules)
      : plan_(plan), candidate_(candidate), model_(model), rules_(rules) {}

  [[nodiscard]] PlannedWeek& week(int index);
  // The day's entry, made where there is none. Valid until the next call that makes or drops one.
  [[nodiscard]] PlannedDay& day(Date date);
  // At the end of the slot, before home blocks; with the minutes of its shape and invented texts.
  Block& add(Date date, const std::string& work, BlockSize size = BlockSize::full);
  void clear(Date date);
  void clear_week(int index);
  // Slot, session, fixed and week minutes as candidate and blocks have them; empty days go.
  void refresh();

 private:
  void refresh_day(PlannedDay& day) const;
  void show_fixed(Date date);

  Plan& plan_;
  const Candidate& candidate_;
  const Model& model_;
  const Rules& rules_;
};

}  // namespace backplan::testing

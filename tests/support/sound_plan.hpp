// A plan made by hand that breaks no rule: twelve weeks of four mornings of an hour, three hard
// sessions a week, with a deload in the middle and a taper of seven days. Tests break it.
#pragma once

#include <set>
#include <string>

#include "backplan/check.hpp"
#include "support/plan_editor.hpp"

namespace backplan::testing {

using Names = std::set<std::string>;

inline constexpr int kMon = 0, kTue = 1, kWed = 2, kThu = 3, kFri = 4, kSat = 5, kSun = 6;

[[nodiscard]] FixedWork fixed_work(int weekday, const std::string& work, int minutes, double metres);

// Everything that check_plan takes, to be changed at will. The test is on a Monday, so the weeks
// counted back from it run from Monday to Sunday.
class Scene {
 public:
  // Plans so many whole weeks; hand-made training in each.
  explicit Scene(int weeks = 12);
  Scene(const Scene&) = delete;
  Scene& operator=(const Scene&) = delete;

  Candidate candidate;
  Standard standard;
  Model model;
  Rules rules;
  Plan plan;
  PlanEditor edit;

  // Monday = 0.
  [[nodiscard]] Date day(int week, int weekday) const;
  void offer(Date date, int minutes);  // other minutes on one day
  // Monday deadlift, Tuesday intervals and trunk, Thursday tempo and push-ups, Saturday shuttle.
  void fill_build(int week);
  // About half of it on the same days: the deload and the taper.
  void fill_light(int week);
  // The ids of the rules that the plan breaks, figures put right first.
  [[nodiscard]] Names broken();
  // The same with the figures left as the test has set them.
  [[nodiscard]] Names broken_as_it_stands() const;
};

}  // namespace backplan::testing

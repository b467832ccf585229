#include "support/sound_plan.hpp"

#include <chrono>

#include "support/plain_model.hpp"
#include "support/random_parts.hpp"

namespace backplan::testing {
namespace {

constexpr Date kTestDay = std::chrono::sys_days{std::chrono::year{2027} / 3 / 8};  // a Monday

Candidate plain_candidate() {
  Candidate candidate;
  candidate.id = "by-hand";
  candidate.test_date = kTestDay;
  candidate.birth_date = born_for(28, kTestDay, 100);
  candidate.column = "all";
  candidate.standard = "one-run";
  candidate.category = "general";
  candidate.week = {60, 60, 0, 60, 0, 60, 0};
  candidate.now.hard_sessions = 3;
  candidate.now.minutes = 200;
  candidate.now.longest_run = to_metres(Miles(3.0));
  candidate.equipment = full_equipment();
  return candidate;
}

}  // namespace

FixedWork fixed_work(int weekday, const std::string& work, int minutes, double metres) {
  FixedWork made;
  made.weekday = weekday;
  made.work = work;
  made.minutes = minutes;
  made.distance = Metres(metres);
  return made;
}

Scene::Scene(int weeks)
    : candidate(plain_candidate()),
      standard(plain_standard()),
      model(plain_model()),
      rules(plain_rules()),
      plan(empty_plan(candidate, kTestDay - Days{7 * weeks})),
      edit(plan, candidate, model, rules) {
  constexpr int kDeloadWeek = 7;
  for (int week = weeks; week >= 1; --week) {
    const bool light = week == 1 || week == kDeloadWeek;
    if (light) {
      fill_light(week);
      edit.week(week).phase = week == 1 ? Phase::taper : Phase::deload;
    } else {
      fill_build(week);
    }
  }
}

Date Scene::day(int week, int weekday) const { return kTestDay - Days{7 * week} + Days{weekday}; }

void Scene::offer(Date date, int minutes) {
  DayOverride over;
  over.date = date;
  over.minutes = minutes;
  candidate.days.push_back(over);
}

void Scene::fill_build(int week) {
  edit.clear_week(week);
  edit.add(day(week, 0), "deadlift");
  edit.add(day(week, 1), "intervals", BlockSize::shorter);
  edit.add(day(week, 1), "trunk");
  edit.add(day(week, 3), "tempo", BlockSize::shorter).continuous_run = Metres(4000.0);
  edit.add(day(week, 3), "push_up", BlockSize::shorter);
  edit.add(day(week, 5), "shuttle");
}

void Scene::fill_light(int week) {
  edit.clear_week(week);
  edit.add(day(week, 0), "deadlift", BlockSize::shorter);
  edit.add(day(week, 1), "intervals", BlockSize::shorter);
  edit.add(day(week, 3), "push_up", BlockSize::shorter);
}

Names Scene::broken() {
  edit.refresh();
  return broken_as_it_stands();
}

Names Scene::broken_as_it_stands() const {
  Names names;
  for (const Violation& violation : check_plan(plan, candidate, standard, model, rules)) {
    names.insert(violation.rule);
  }
  return names;
}

}  // namespace backplan::testing

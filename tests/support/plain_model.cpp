#include "support/plain_model.hpp"

#include <utility>

namespace backplan::testing {
namespace {

WorkKind kind(const std::string& id, const std::string& family, BlockShape full, BlockShape shorter) {
  WorkKind made;
  made.id = id;
  made.name = id;
  made.family = family;
  made.full = full;
  made.shorter = shorter;
  return made;
}

WorkKind lift() {
  WorkKind made = kind("deadlift", "lift", {45, 1.0}, {30, 0.65});
  made.hard = true;
  made.heavy_lower = true;
  made.needs = {"hex_bar"};
  return made;
}

WorkKind run(const std::string& id, const std::string& family, BlockShape full, BlockShape shorter) {
  WorkKind made = kind(id, family, full, shorter);
  made.running = true;
  made.hard = family == "intervals";
  return made;
}

WorkKind at_home(WorkKind made) {
  made.home = BlockShape{10, 0.5};
  return made;
}

WorkKind shuttle() {
  WorkKind made = kind("shuttle", "shuttle", {35, 1.0}, {22, 0.6});
  made.hard = true;
  made.needs = {"sled", "kettlebells"};
  return made;
}

}  // namespace

Model plain_model() {
  Model model;
  WorkKind ball = kind("throw", "throw", {20, 1.0}, {12, 0.6});
  ball.needs = {"throw_ball"};
  model.work = {lift(),
                at_home(kind("push_up", "press", {20, 1.0}, {12, 0.6})),
                shuttle(),
                at_home(kind("trunk", "hold", {15, 1.0}, {10, 0.65})),
                run("intervals", "intervals", {35, 1.0}, {25, 0.7}),
                run("tempo", "steady", {35, 1.0}, {25, 0.7}),
                run("easy_run", "steady", {40, 1.0}, {25, 0.65}),
                ball};
  FixedKind march;
  march.id = march.name = "march";
  march.counts_as = "easy_run";
  march.march = true;
  march.hard_from_metres = 10000.0;
  march.hard_from_minutes = 120.0;
  FixedKind unit_run;
  unit_run.id = unit_run.name = "unit_run";
  unit_run.counts_as = "easy_run";
  unit_run.running = true;
  unit_run.hard_from_metres = 8000.0;
  unit_run.hard_from_minutes = 50.0;
  model.fixed = {march, unit_run};
  return model;
}

Rules plain_rules() {
  Rules rules;
  rules.hard_days_a_week = {2, 3, 4};
  rules.intervals_a_week = {1, 2, 2};
  rules.rest_days_a_week = {2, 1, 1};
  rules.hard_sessions_at_start = {1, 2, 3};
  rules.home_work = {"push_up", "trunk"};
  rules.untrained_shares = {0.6, 0.8, 1.0};
  rules.longest_run_floor = to_metres(Miles(2.0));
  return rules;
}

Standard plain_standard() {
  Standard standard;
  standard.id = "one-run";
  standard.title = "One run";
  Event run_event;
  run_event.id = run_event.model_event = "2MR";
  run_event.name = "two-mile run";
  run_event.unit = Unit::second;
  run_event.direction = Direction::less_is_better;
  run_event.distance = to_metres(Miles(2.0));
  run_event.least_plausible = 480.0;
  run_event.most_plausible = 3600.0;
  standard.events = {run_event};
  standard.columns = {"all"};
  standard.bands = {{17, 62}};
  Category general;
  general.id = general.name = "general";
  standard.categories = {general};
  // Invented: 20:00 earns 60 points, 13:20 earns 100.
  const std::vector<Row> rows = {{Points::whole(60), 1200.0, Origin::memory, "invented"},
                                 {Points::whole(100), 800.0, Origin::memory, "invented"}};
  standard.scales.emplace(ScaleKey{"2MR", "all", {17, 62}},
                          Scale::steps(Direction::less_is_better, 1.0, rows));
  return standard;
}

}  // namespace backplan::testing

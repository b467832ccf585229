#include "support/small_plan.hpp"

#include <chrono>

namespace backplan::support {
namespace {

Date day(int month, unsigned number) {
  return Date(std::chrono::year(2027) / std::chrono::month(static_cast<unsigned>(month)) /
              std::chrono::day(number));
}

EventOutlook lift() {
  EventOutlook event;
  event.event = "MDL";
  event.now_result = 171.3;
  event.now_points = Points::whole(74);
  event.now_origin = Origin::interpolated;
  event.now_differs = true;
  event.test_day_result = 184.256;
  event.test_day_low80 = 176.0;
  event.test_day_high80 = 193.0;
  event.test_day_points = Points::whole(80);
  event.test_day_origin = Origin::published;
  event.expected_points = 79.5;
  event.p_minimum = 0.995;
  event.p_own_target = 0.75;
  return event;
}

EventOutlook run() {
  EventOutlook event;
  event.event = "2MR";
  event.measured = false;
  event.test_day_result = 1300.4;
  event.test_day_low80 = 1390.0;
  event.test_day_high80 = 1200.0;
  event.test_day_origin = Origin::memory;
  event.expected_points = 55.25;
  event.p_minimum = 0.42;
  event.p_own_target = 0.1;
  return event;
}

PlannedWeek build_week() {
  PlannedWeek week{2, day(2, 22), 7, Phase::build, 175, false, {}, {{"MDL", 176.5}, {"2MR", 1345.0}}};
  PlannedDay lifting{day(2, 23), 60, 60, {}, "", 0, {}, ""};
  lifting.blocks.push_back({"deadlift", BlockSize::full, 45, false, Pounds(155), std::nullopt,
                            "5 sets of 5 with 155 lb, two left in reserve", "4 points in MDL by the test",
                            "pain in the back"});
  lifting.blocks.push_back({"push_up", BlockSize::home, 10, true, std::nullopt, std::nullopt,
                            "two minutes, timed", "shows where you stand", "form breaks"});
  PlannedDay marching{day(2, 24), 0, 0, {}, "march", 120, {}, "night shift before: nothing hard"};
  week.days = {lifting, marching};
  return week;
}

PlannedWeek taper_week() {
  PlannedWeek week{1, day(3, 1), 7, Phase::taper, 35, true, {}, {}};
  PlannedDay running{day(3, 2), 60, 50, {}, "", 0, {}, ""};
  running.blocks.push_back({"intervals", BlockSize::full, 35, false, std::nullopt, Metres(400),
                            "4 times 400 m in 2:30", "holds the pace", "shin pain"});
  week.days = {running};
  return week;
}

}  // namespace

Plan small_plan() {
  Plan plan;
  plan.candidate = "A-07";
  plan.as_of = day(2, 22);
  plan.test_date = day(3, 8);
  plan.standard = "small-test";
  plan.standard_hash = "00000000000000aa";
  plan.model_hash = "00000000000000bb";
  plan.category = "general";
  plan.age = 28;
  plan.target.total = Points::whole(240);
  plan.target.each = Points::whole(60);
  plan.target.events = {{"2MR", Points::from_tenths(705)}};
  plan.outlook = {{231.25, 222.0, 239.5, {{220.0, 230.0, 0.4}, {230.0, 240.0, 0.6}}},
                  0.4,
                  0.412345678,
                  0.31,
                  {lift(), run()}};
  plan.without_training = {{219.0, 210.0, 228.0, {}}, 0.3, 0.2, 0.001, {lift(), run()}};
  plan.yield = {
      {"intervals", {{"2MR", 3.2}}, {{"2MR", 4.4}, {"MDL", 0.01}}, 3.2, 4.41, "the run is far below"},
      {"deadlift", {{"MDL", 1.1}}, {{"MDL", 1.3}}, 1.1, 1.3, "steady gain"}};
  plan.minutes_per_week = 175;
  plan.minutes_available = 285;
  plan.optimality = {198.123456, 198.15};
  plan.weeks = {build_week(), taper_week()};
  plan.ways_out =
      WaysOut{226.0, day(5, 10), 320, "two runs more a week", 0.55, day(5, 10), 390, {"longer days"}};
  plan.given_up = {{"HRP", "push_up", "10 minutes short a week"}};
  plan.cautions = {"no medical advice: the official manual, your unit and licensed staff come first"};
  plan.assumptions = {{"events.MDL.k_per_week", "0.12", "judgement of the project", Status::judgement},
                      {"background", "regular", "not in candidate.json", Status::common_practice}};
  return plan;
}

}  // namespace backplan::support

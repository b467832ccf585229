#include "support/small_standard.hpp"

namespace backplan::support {

namespace {

Event event(std::string id, std::string name, Unit unit, Direction direction, double resolution, double least,
            double most) {
  Event made;
  made.model_event = id;
  made.id = std::move(id);
  made.name = std::move(name);
  made.unit = unit;
  made.direction = direction;
  made.resolution = resolution;
  made.least_plausible = least;
  made.most_plausible = most;
  return made;
}

Scale scale(const Event& of, double at60, double at80, double at100) {
  const auto row = [](int points, double result) {
    return Row{Points::whole(points), result, Origin::published, "invented for the tests"};
  };
  return Scale::steps(of.direction, of.resolution, {row(60, at60), row(80, at80), row(100, at100)});
}

void add_scales(Standard& standard, AgeBand band, double fewer) {
  const auto add = [&](std::size_t event, const char* column, double at60, double at80, double at100) {
    const Event& of = standard.events[event];
    standard.scales.emplace(ScaleKey{of.id, column, band}, scale(of, at60, at80, at100));
  };
  add(0, "female", 120, 170, 220);
  add(0, "male", 150, 240, 340);
  add(1, "female", 10 - fewer, 30 - fewer, 50 - fewer);
  add(1, "male", 15 - fewer, 38 - fewer, 60 - fewer);
  add(2, "female", 22 * 60, 18 * 60, 15 * 60 + 30);
  add(2, "male", 20 * 60, 16 * 60, 13 * 60 + 30);
}

WorkKind work(std::string id, std::string family, std::string trains, BlockShape full, bool hard) {
  WorkKind made;
  made.name = id;
  made.id = std::move(id);
  made.family = std::move(family);
  made.transfer[trains] = 1.0;
  made.trains = std::move(trains);
  made.full = full;
  made.shorter = {full.minutes * 2 / 3, full.stimulus * 0.65};
  made.hard = hard;
  return made;
}

}  // namespace

Standard small_standard() {
  Standard standard;
  standard.id = "small-test";
  standard.title = "Small test";
  standard.source = "invented for the tests";
  standard.events = {
      event("MDL", "deadlift", Unit::pound, Direction::more_is_better, 10, 80, 600),
      event("HRP", "hand-release push-up", Unit::repetition, Direction::more_is_better, 1, 0, 120),
      event("2MR", "two-mile run", Unit::second, Direction::less_is_better, 1, 9 * 60, 45 * 60)};
  standard.events[2].distance = to_metres(Miles(2));
  standard.columns = {"female", "male"};
  standard.bands = {{17, 21}, {22, 26}, {27, 99}};
  standard.categories = {
      {"general", "general", "", Points::whole(60), {}, std::nullopt, "invented for the tests"},
      {"combat", "combat", "male", Points::whole(60), {}, Points::whole(210), "invented for the tests"}};
  for (std::size_t i = 0; i < standard.bands.size(); ++i) {
    add_scales(standard, standard.bands[i], 2.0 * static_cast<double>(i));
  }
  return standard;
}

Model small_model() {
  Model model;
  model.work = {work("deadlift", "lift", "MDL", {45, 1.0}, true),
                work("push_up", "press", "HRP", {20, 1.0}, false),
                work("intervals", "intervals", "2MR", {35, 1.0}, true)};
  for (const char* id : {"MDL", "HRP", "2MR"}) {
    EventModel made;
    made.id = id;
    made.run = made.id == "2MR";
    model.events[id] = made;
  }
  model.fixed = {{"march", "march", "intervals", 0.01, true, true, 5000.0, 60.0}};
  return model;
}

}  // namespace backplan::support

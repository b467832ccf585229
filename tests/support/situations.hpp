// Ready-made situations for the tests of prescriptions.
#pragma once

#include <string>
#include <utility>

#include "backplan/prescription.hpp"

namespace backplan::test {

inline constexpr Metres kTwoMiles{2.0 * kMetresPerMile};

// The work kinds with the shapes of the defaults; enough of each for a prescription.
inline WorkKind work_kind(const std::string& id, const std::string& family, const std::string& trains,
                          std::pair<int, int> minutes, double transfer = 1.0) {
  WorkKind work;
  work.id = id;
  work.name = id;
  work.family = family;
  work.trains = trains;
  work.full = {minutes.first, 1.0};
  work.shorter = {minutes.second, 0.65};
  work.transfer[trains] = transfer;
  work.running = family == "intervals" || family == "steady";
  return work;
}
inline WorkKind lift_work() { return work_kind("deadlift", "lift", "MDL", {45, 30}); }
inline WorkKind press_work() {
  WorkKind work = work_kind("push_up", "press", "HRP", {20, 12});
  work.home = BlockShape{10, 0.5};
  return work;
}
inline WorkKind shuttle_work() { return work_kind("shuttle", "shuttle", "SDC", {35, 22}); }
inline WorkKind hold_work() {
  WorkKind work = work_kind("trunk", "hold", "PLK", {15, 10});
  work.home = BlockShape{10, 0.65};
  return work;
}
inline WorkKind interval_work() { return work_kind("intervals", "intervals", "2MR", {35, 25}); }
inline WorkKind tempo_work() { return work_kind("tempo", "steady", "2MR", {35, 25}, 0.9); }
inline WorkKind easy_work() { return work_kind("easy_run", "steady", "2MR", {40, 25}, 0.45); }
inline WorkKind throw_work() { return work_kind("throw", "throw", "SPT", {20, 12}); }

inline Standard small_standard() {
  Standard standard;
  const auto add = [&standard](const std::string& id, const std::string& name) {
    Event event;
    event.id = id;
    event.name = name;
    event.model_event = id;
    standard.events.push_back(event);
  };
  add("MDL", "deadlift");
  add("HRP", "hand-release push-up");
  add("SDC", "sprint-drag-carry");
  add("PLK", "plank");
  add("2MR", "two-mile run");
  add("SPT", "standing power throw");
  standard.events[4].distance = kTwoMiles;
  return standard;
}

inline Candidate usual_candidate(Background background = Background::regular) {
  Candidate candidate;
  candidate.background = background;
  candidate.equipment.plates_lb = {45, 45, 45, 45, 35, 35, 25, 25, 10, 10, 10, 10, 5, 5};
  return candidate;
}

// A candidate in the middle of a plan who was measured in everything; the objects live as long as
// the case does.
struct Case {
  explicit Case(Background background = Background::regular) : candidate(usual_candidate(background)) {
    situation.candidate = &candidate;
    situation.standard = &standard;
    situation.weeks_to_test = 8;
    situation.training_week = 4;
    situation.longest_run = kTwoMiles;
    situation.run_floor = kTwoMiles;
    measured("MDL", 220);
    measured("HRP", 30);
    measured("SDC", 130);
    measured("PLK", 120);
    measured("2MR", 960);
    measured("SPT", 8);
  }
  Case(const Case&) = delete;
  Case& operator=(const Case&) = delete;

  void measured(const std::string& event, double result) {
    situation.expected[event] = result;
    situation.proven[event] = result;
  }
  [[nodiscard]] Block block(const WorkKind& work, BlockSize size = BlockSize::full) const {
    return prescribe(work, size, situation);
  }

  Candidate candidate;
  Standard standard = small_standard();
  Situation situation;
};

}  // namespace backplan::test

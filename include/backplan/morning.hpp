// One common morning: who is where from minute to minute, so that no lane is used twice.
// docs/mathematics.md, "The morning".
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/rules.hpp"
#include "backplan/squad.hpp"

namespace backplan {

struct Morning;

// Doctrine and judgement of the shared lanes; docs/squad.md has the sources.
inline constexpr int kPeopleALane = 4;          // three rest while one lifts; four to a lane on test day
inline constexpr int kMostRunGroups = 4;        // about equal groups by pace (FM 7-22, 2012)
inline constexpr double kRunGroupSpread = 6.0;  // seconds a quarter within one group (judgement)
inline constexpr double kRunGroupGap = 60.0;    // seconds between groups (FM 7-22, 2012, chapter 10)

// What a kind shares on a lane of its own: "bar", "sled"; empty where there is room for all.
[[nodiscard]] std::string lane_word(const WorkKind& kind);
// How many such lanes the squad has.
[[nodiscard]] int lanes_for(const WorkKind& kind, const SquadEquipment& equipment);

// In which waves a person can be on a lane: wave w starts w times `wave_minutes` after the preparation.
// `blocks` in their order; `at` is the one on the lane.
struct LaneVisit {
  std::vector<Block> blocks;
  std::size_t at = 0;
  int minutes = 0;       // of the morning
  int wave_minutes = 0;  // how long a wave holds the lane
};
[[nodiscard]] std::vector<bool> waves_of(const LaneVisit& visit, const Model& model, const Rules& rules);
// Waves one after another from the first that all serve; at least none.
[[nodiscard]] int waves_in_a_row(const std::vector<bool>& waves);

struct Attendee {
  std::string id;
  const PlannedDay* day = nullptr;
};

// `equipment`: bar and plates as everybody's candidate has them.
struct MorningTask {
  Date date;
  int minutes = 0;
  const SquadEquipment& kit;
  const Equipment& equipment;
  const Model& model;
  const Rules& rules;
  std::vector<Attendee> people;  // with blocks in their slot, in the order of the roster
};

// How many found no lane, by lane word: they do the work without kit, and the sheet says so.
struct Overflow {
  std::string lane;
  int people = 0;
};

// The morning, and what did not fit.
[[nodiscard]] Morning schedule_morning(const MorningTask& task, std::vector<Overflow>& overflow);

}  // namespace backplan

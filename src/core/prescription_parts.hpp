// What the families of prescriptions share. Each family is one function from the block's minutes
// and the situation to a draft; prescription.cpp picks the family and adds the reason.
#pragma once

#include <optional>
#include <string>

#include "backplan/prescription.hpp"
#include "backplan/running.hpp"

namespace backplan {

inline constexpr int kRampMinutes = 8, kRampMinutesShort = 6;  // ramp-up sets before a lift
inline constexpr int kSetUpMinutes = 4;                        // of a shuttle: lane, sled, first easy lengths

struct Draft {
  std::string text;
  std::string stop;
  std::optional<Pounds> load;
  std::optional<Metres> continuous_run;
  bool rehearsal = false;
  int sets = 0;                    // turns on a shared lane
  std::optional<Seconds> quarter;  // slowest 400 m
  std::optional<LiftFigures> lift;
  std::optional<LaneRounds> rounds;
};

// The block to write: its work, size and minutes.
struct Order {
  const WorkKind& work;
  BlockSize size = BlockSize::full;
  int minutes = 0;
  const Situation& situation;
};

// The lift at this load, which these plates make: not above the planned one.
[[nodiscard]] std::string lift_text(const LiftFigures& lift, Pounds load, const Equipment& equipment);

[[nodiscard]] Draft write_lift(const Order& order);
[[nodiscard]] Draft write_press(const Order& order);
[[nodiscard]] Draft write_hold(const Order& order);
[[nodiscard]] Draft write_shuttle(const Order& order);
[[nodiscard]] Draft write_throw(const Order& order);
[[nodiscard]] Draft write_intervals(const Order& order);
[[nodiscard]] Draft write_steady(const Order& order);
[[nodiscard]] Draft write_pieces(const Order& order);
[[nodiscard]] Draft write_drill(const Order& order);

// The event whose ability sets the figures: what is expected now and what was shown lately. None
// when it was never measured; a guess from the scale's band sets no loads and no paces.
struct Ability {
  double expected = 0.0;
  double proven = 0.0;
};
[[nodiscard]] std::optional<Ability> ability_of(const Order& order);

// Deload and taper: the same intensity, about half the sets.
[[nodiscard]] bool is_easy_phase(const Situation& situation);
// `sets`, or about half of them (rounded up) in deload and taper; at least one.
[[nodiscard]] int sets_in_phase(int sets, const Situation& situation);
[[nodiscard]] bool is_new(const Situation& situation);
// Nothing maximal in the first weeks of a beginner, and none after childbirth (rules, Medical).
[[nodiscard]] bool no_maximal_work(const Situation& situation);

// How many sets of `work_s` with `rest_s` between them fit into `minutes`; at least one.
[[nodiscard]] int sets_that_fit(double minutes, double work_s, double rest_s);

// "1:58"; parts of a second count as a whole one, so that a printed pace is never the faster.
[[nodiscard]] std::string clock_text(Seconds time);
// "1 min", "90 s", "2.5 min" for rests and pieces.
[[nodiscard]] std::string span_text(double seconds);
// The event's name in the standard ("deadlift"), by the model's event id.
[[nodiscard]] std::string event_name(const std::string& model_event, const Situation& situation);
// Distance of the run that the work trains for; two miles when the standard does not say.
[[nodiscard]] Metres run_distance(const Order& order);
// Longest unbroken run that the run rule allows.
[[nodiscard]] Metres run_cap(const Situation& situation);

// A band of paces for this ability, never more than 3 % faster than the proven run gives.
using Band = PaceBand (*)(double index);
[[nodiscard]] PaceBand safe_pace(Band band, const Ability& ability, Metres distance);
inline constexpr double kFastestOverProven = 0.97;
[[nodiscard]] double metres_per_second(Seconds mile);
[[nodiscard]] Seconds quarter_of(Seconds mile);  // 400 m at this pace
// "9:03-8:38 a mile", with "2:15-2:09 per 400 m" before it on a track.
[[nodiscard]] std::string pace_text(const PaceBand& pace, const Situation& situation);

}  // namespace backplan

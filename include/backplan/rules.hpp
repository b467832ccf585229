// The training rules that no optimum may break, as numbers. Read from data/model/rules.json; the
// planner obeys them and the independent checker (check.hpp) judges every plan by them.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/journal.hpp"
#include "backplan/model.hpp"

namespace backplan {

// How many days before today are searched for days without work: never fewer than a spell that a rule asks
// for and the return after it take together.
inline constexpr int kLookBackDays = 90;

struct ByBackground {
  int new_to_training = 0;
  int regular = 0;
  int long_trained = 0;
  [[nodiscard]] int of(Background background) const;
};

// Of common mornings and of a squad's groups.
struct SquadRules {
  double bar_turn_seconds = 75.0,
         bar_rest_seconds = 180.0;  // one set with its plates; between a person's sets
  double drag_seconds = 60.0, course_seconds = 180.0, drag_rest_seconds = 120.0;  // one drag, a whole course
  int usual_turns = 5;    // of a block that does not say how many sets it has
  int extras_a_week = 2;  // short blocks at home beside the mornings
  double failures_worth_moving = 0.02, points_worth_moving = 1.0;  // less is no reason to change groups
  std::vector<Assumption> assumptions;  // apart: no plan of a single candidate rests on them
};

struct Rules {
  // Hard days.
  ByBackground hard_days_a_week;      // 2, 3, 4
  int fewer_hard_days_from_age = 40;  // one fewer from this age,
  int fewest_hard_days = 2;           // but never under this
  int hard_days_in_a_row = 2;
  ByBackground intervals_a_week;  // 1, 2, 2
  int deadlifts_a_week = 2;
  int days_between_deadlifts = 2;  // 48 h
  ByBackground rest_days_a_week;   // 2, 1, 1

  // A slot.
  int blocks_a_slot = 3;
  int hard_blocks_a_slot = 1;
  int preparation_minutes = 10, recovery_minutes = 5;
  int short_slot_under = 40, short_preparation_minutes = 6, short_recovery_minutes = 2;
  int change_over_minutes = 3;
  std::vector<std::string> home_work;

  // Ramp.
  ByBackground hard_sessions_at_start;  // 1, 2, 3 where the candidate does not say
  int hard_sessions_step = 1;
  std::vector<double> untrained_shares;  // 0.6, 0.8, 1.0 of the minutes
  int untrained_under_minutes = 30;      // "from untrained": does less than this a week now
  int off_days_for_untrained = 21;
  int easy_days_back = 7;   // after so many days off: short blocks, no rehearsal, easy running only
  int form_days_back = 14;  // and lifts by the lightest scheme
  int lost_days_for_half = 14;
  double half_share = 0.5;
  double longest_run_growth = 1.10;
  int longest_run_days = 30;
  Metres longest_run_floor{0.0};

  // Deload.
  int build_weeks_before_deload = 5;
  double deload_least = 0.40, deload_most = 0.60;  // of the median of the last three build weeks
  int deload_counts_from_days = 5;                 // a rest or light spell this long is one
  int no_deload_weeks_before_taper = 3;
  int deload_from_hard_sessions = 3;  // a plan that never has so many needs none
  int easy_days_after_field = 2;

  // Taper.
  int taper_short_days = 5, taper_short_under_minutes = 120;
  int taper_middle_days = 7, taper_middle_up_to_minutes = 240;
  int taper_long_days = 10;
  double taper_least_cut = 0.41;
  int no_deadlift_days = 5;
  int no_training_days_before_test = 1;
  int plan_without_training_under_days = 8;
  int easy_days_before_diagnostic = 2, easy_days_after_diagnostic = 1;

  // Fixed work, night shifts.
  Metres march_spacing_from{5000.0};
  int night_shift_easy_days = 1;

  // Medical.
  double profile_recovery_factor = 2.0;
  int profile_recovery_most_days = 90;

  SquadRules squad;

  PainRules pain;

  std::vector<Assumption> assumptions;
  std::string content_hash;
};

// Names the version of all defaults together: a plan made by others is not the plan of these.
[[nodiscard]] std::string defaults_hash(const Model& model, const Rules& rules);

// The most hard days a week for this candidate on the test day's age.
[[nodiscard]] int hard_day_limit(const Rules& rules, Background background, int age);
// Days of the taper, from the minutes a week that the candidate has.
[[nodiscard]] int taper_days(const Rules& rules, int minutes_a_week);
// Minutes of a slot that blocks can fill: a slot just over a step may be used as the shorter one,
// so that a minute more never leaves less.
[[nodiscard]] int usable_minutes(const Rules& rules, int slot_minutes);
// Clock minutes of a session with these block minutes: preparation, blocks, change-overs, recovery.
[[nodiscard]] int session_minutes(const Rules& rules, int block_minutes, int blocks);

}  // namespace backplan

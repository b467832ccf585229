// The dated plan: what a candidate does on which day, why, and what it will bring.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/points.hpp"
#include "backplan/standard.hpp"
#include "backplan/units.hpp"

namespace backplan {

enum class Phase { build, deload, taper, blocked };
[[nodiscard]] std::string to_string(Phase phase);
[[nodiscard]] std::string to_string(BlockSize size);  // "full", "short", "home"

// A lift as it is written, so that a sheet can write it for a lighter load.
struct LiftFigures {
  std::string opening;  // "Fewer sets: "
  int sets = 0, repetitions = 0;
  Pounds maximum{0.0};       // one repetition, expected
  Pounds wanted{0.0};        // before plates made a load of it
  Pounds sets_load{0.0};     // of the sets
  bool top_triple = false;   // before the sets, at the block's load
  bool slow_anyway = false;  // form first
  std::string reserve;       // "two left"
  std::string rest;          // "rest 2.5 min; then rows, ..."
};

// Rounds on a shared sled: how far apart they begin, and how long the last one takes with all that follows.
struct LaneRounds {
  double every_s = 0.0, last_s = 0.0;
};

struct Block {
  std::string work;
  BlockSize size = BlockSize::full;
  int minutes = 0;
  bool rehearsal = false;                // a timed, test-like effort: counts as hard
  std::optional<Pounds> load;            // the heaviest load of a lift
  std::optional<Metres> continuous_run;  // the longest unbroken run in it
  std::string prescription;
  std::string why;
  std::string stop;  // when to stop
  // What a common morning needs besides; not kept in plan.json.
  int sets = 0;                                   // turns that a lift or a shuttle takes on its lane
  std::optional<Seconds> quarter = std::nullopt;  // the slowest 400 m that a run is paced by
  std::optional<LiftFigures> lift = std::nullopt;
  std::optional<LaneRounds> rounds = std::nullopt;
};

struct PlannedDay {
  Date date;
  int slot_minutes = 0;       // what the day offers
  int session_minutes = 0;    // what the slot's blocks take, with preparation and recovery
  std::vector<Block> blocks;  // in the order to do them; home blocks last
  std::string fixed;          // fixed work of the day, printed name
  int fixed_minutes = 0;
  std::optional<Metres> fixed_distance;  // where one fixed work alone is of this day and has a distance
  std::string note;                      // "diagnostic test", "test rehearsal: attempts and pacing", ...
};

struct Milestone {
  std::string event;
  double result = 0.0;  // expected at the end of the week, in the event's unit
};

// Seven days counted back from the test: week `index` covers test - 7*index up to test - 7*(index-1) - 1.
// The first may be partial.
struct PlannedWeek {
  int index = 0;
  Date starts;
  int days_long = 7;
  Phase phase = Phase::build;
  int minutes = 0;               // planned, home blocks included
  bool provisional = false;      // loads will be set anew by later results
  std::vector<PlannedDay> days;  // days with training, fixed work or a note, by date
  std::vector<Milestone> milestones;
};

struct Interval {
  double low80 = 0.0;
  double high80 = 0.0;
};

struct EventOutlook {
  std::string event;
  std::optional<double> now_result;  // estimate today, in the event's unit
  std::optional<Points> now_points;
  Origin now_origin = Origin::memory;
  bool now_differs = false;  // from the latest result, by its setting or by what else is known
  bool measured = true;      // false: a broad guess from the band
  double test_day_result = 0.0;
  double test_day_low80 = 0.0, test_day_high80 = 0.0;  // low80 is the worse end in value
  std::optional<Points> test_day_points;               // of the central result
  Origin test_day_origin = Origin::memory;
  double expected_points = 0.0;
  double p_minimum = 0.0;     // of reaching the category's minimum
  double p_own_target = 1.0;  // of reaching `each` and the event's own target
};

// The chance of a total from `from` on and under `to`.
struct TotalBin {
  double from = 0.0;
  double to = 0.0;
  double p = 0.0;
};

struct TotalOutlook {
  double mean = 0.0;
  double low80 = 0.0;
  double high80 = 0.0;
  std::vector<TotalBin> bins;  // of equal width, rising; empty where the spread was not asked for
};

struct Outlook {
  TotalOutlook total;  // over test days on which every event is on the scale
  double p_on_scale = 0.0;
  double p_pass = 0.0;
  double p_target = 0.0;
  std::vector<EventOutlook> events;
};
// Days that are left out need not be named, and totals can be compared, from this share of all test days on
// (docs/mathematics.md).
inline constexpr double kNearlyAllDays = 0.95;
[[nodiscard]] inline bool total_is_of_nearly_all_days(const Outlook& outlook) {
  return outlook.p_on_scale >= kNearlyAllDays;
}

// A total that stands for fewer test days than this says nothing of the others: it is printed as "none".
inline constexpr double kLeastDaysOfATotal = 0.01;
[[nodiscard]] inline bool has_total(double p_on_scale) { return p_on_scale >= kLeastDaysOfATotal; }

struct YieldRow {
  std::string work;
  std::map<std::string, double> now;         // points per further hour, by event: the coming week
  std::map<std::string, double> weeks_left;  // the same, an extra block in every week left
  double now_total = 0.0;
  double weeks_left_total = 0.0;
  std::string why;
  bool possible = true;  // on some day that is left; not kept in plan.json
};

struct Optimality {
  double value = 0.0;
  std::optional<double> bound;  // of any plan's value; none where it was not proven
};

struct GivenUp {
  std::string event;
  std::string work;
  std::string why;
};

struct WaysOut {
  std::optional<double> total_within_reach;  // at the asked confidence
  std::optional<Date> earliest_date;
  std::optional<int> minutes_per_week;
  std::string best_change;  // empty: none of those tried helps
  double best_change_p_target = 0.0;
  // How far the search went: where nothing was found, it can be said among what.
  std::optional<Date> last_date_tried = std::nullopt;
  std::optional<int> most_minutes_tried = std::nullopt;  // a week
  std::vector<std::string> tried = {};                   // kinds of changes: "longer days"
};

struct Plan {
  std::string candidate;
  Date as_of;
  Date test_date;
  std::string standard;
  std::string standard_hash;
  std::string model_hash;
  // Goes on from a plan for this test that was made in time: its last days are a taper, not a plan that comes
  // too late. Not kept in plan.json.
  bool goes_on = false;
  std::string basis;  // of a plan from a journal: a hash of all that it was made from; empty: not known
  int revision = 0;   // of the plan in calendars: 0 is the first
  std::vector<Date> withdrawn;  // days to come of earlier revisions that have no training any more
  std::string category;
  int age = 0;
  Target target;
  Outlook outlook;           // with this plan
  Outlook without_training;  // holding what there is
  std::vector<YieldRow> yield;
  int minutes_per_week = 0;                     // of a usual build week of this plan
  std::optional<int> least_minutes_for_target;  // a week
  int minutes_available = 0;                    // of a usual week
  Optimality optimality;
  std::vector<PlannedWeek> weeks;   // in order of date
  bool enough = false;              // p_target and p_pass hold their confidence
  std::optional<WaysOut> ways_out;  // only when not enough
  std::vector<GivenUp> given_up;
  // Why there is no plan; then there is no forecast, no chance and no yield either.
  std::vector<std::string> refused;
  std::vector<std::string> cautions;
  std::vector<Assumption> assumptions;
};

}  // namespace backplan

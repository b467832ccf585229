// Fast repeats: run-walk by the clock for beginners, quarters and halves at interval pace, quarters
// at goal pace in the last month.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "prescription_parts.hpp"

namespace backplan {
namespace {

constexpr double kQuarter = 400.0;  // metres
constexpr double kHalf = 800.0;
// A half is run only by those whom it takes no longer than this: repeats of two to five minutes
// (Helgerud 2007 used four).
constexpr double kLongestRepeat = 270.0;  // s
constexpr int kMostQuarters = 8;
constexpr int kMostHalves = 5;
constexpr int kMostQuartersShort = 6;
constexpr int kMostHalvesShort = 3;
constexpr double kRestShare = 0.75;  // of the repeat's time
constexpr double kRestStep = 15.0;
constexpr double kLeastRest = 60.0;
constexpr double kMostRest = 180.0;
constexpr int kGoalPaceFromWeek = 4;  // the last month

// Run 30 s, walk 60 s; later 60 and 120 (FM 7-22, 2012, chapter 10): 6 repeats, up to 10,
// at 75 to 85 % effort; the Army's test-training guide lets beginners start at 50 to 60 %.
constexpr double kShortRun = 30.0;
constexpr double kLongRun = 60.0;
constexpr double kWalkOverRun = 2.0;
constexpr int kFewestWalkRuns = 6;
constexpr int kMostWalkRuns = 10;
constexpr int kLongRunFromWeek = 4;
constexpr int kQuartersFromWeek = 8;  // a beginner's first quarters

// By effort, where the run was never measured: two minutes, and no more than this speed planned for
// (10 min for two miles is 5.4 m/s; an upper bound that keeps the run rule).
constexpr double kEffortRun = 120.0;
constexpr double kFastestUnknown = 6.0;  // m/s
constexpr int kMostEffortRuns = 6;

constexpr const char* kIntervalStop =
    "stop when a repeat is 3 % slower than the first; pain in shin, foot or hip, or a limp, ends it";
constexpr const char* kWalkRest = "; brisk walk for the rest";

bool on_track(const Situation& s) { return s.candidate->equipment.track; }

double rest_after(double work_s) {
  return std::clamp(std::ceil(kRestShare * work_s / kRestStep) * kRestStep, kLeastRest, kMostRest);
}

int repeats_of(int most, double work_s, double rest_s, const Order& order) {
  return sets_in_phase(std::min(most, sets_that_fit(order.minutes, work_s, rest_s)), order.situation);
}

// Runs by the clock with walks between; `pace` only where the ability is known.
struct Timed {
  double run_s = 0.0;
  double walk_s = 0.0;
  int most = 0;
  std::string effort;
};

Draft by_the_clock(Timed timed, const std::optional<PaceBand>& pace, const Order& order) {
  const Situation& s = order.situation;
  const double speed = pace ? metres_per_second(pace->fast_mile) : kFastestUnknown;
  const double cap = run_cap(s).value();
  Draft draft;
  draft.stop = kIntervalStop;
  // The run rule may leave less than one repeat.
  const double allowed = std::floor(cap / speed / kRestStep) * kRestStep;
  timed.run_s = std::min(timed.run_s, allowed);
  if (!(timed.run_s > 0.0)) {
    draft.continuous_run = Metres(0.0);
    draft.text = fmt::format(
        "Walk {} min, every third minute uphill or as fast as you can walk; no running yet", order.minutes);
    return draft;
  }
  draft.continuous_run = Metres(timed.run_s * speed);
  if (pace) draft.quarter = quarter_of(pace->fast_mile);
  draft.text =
      fmt::format("{}× run {} / walk {}, {}", repeats_of(timed.most, timed.run_s, timed.walk_s, order),
                  span_text(timed.run_s), span_text(timed.walk_s), timed.effort);
  if (pace) draft.text += ", no faster than " + pace_text({pace->fast_mile, pace->fast_mile}, s);
  draft.text += kWalkRest;
  return draft;
}

Draft beginner_repeats(const std::optional<PaceBand>& pace, const Order& order) {
  const int week = order.situation.training_week;
  const bool longer = week >= kLongRunFromWeek;
  Timed timed;
  timed.run_s = longer ? kLongRun : kShortRun;
  timed.walk_s = kWalkOverRun * timed.run_s;
  timed.most = std::min(kMostWalkRuns, kFewestWalkRuns + (longer ? week - kLongRunFromWeek : week));
  timed.effort = order.situation.form_first ? "50-60 % effort (talk in short sentences)"
                                            : "75-85 % effort (talk in single words)";
  return by_the_clock(timed, pace, order);
}

Draft effort_repeats(const Order& order) {
  Timed timed;
  timed.run_s = kEffortRun;
  timed.walk_s = kEffortRun;
  timed.most = kMostEffortRuns;
  timed.effort = "hard but even, effort 8 of 10 (talk in single words)";
  return by_the_clock(timed, std::nullopt, order);
}

Draft repeats_at(double metres, const PaceBand& pace, const std::string& label, const Order& order) {
  const bool full = order.size == BlockSize::full && !is_new(order.situation);
  const double work_s = pace.slow_mile.value() * metres / kMetresPerMile;
  const double rest_s = rest_after(work_s);
  const int most = metres > kQuarter ? (full ? kMostHalves : kMostHalvesShort)
                                     : (full ? kMostQuarters : kMostQuartersShort);
  const int repeats = repeats_of(most, work_s, rest_s, order);
  Draft draft;
  draft.stop = kIntervalStop;
  draft.quarter = quarter_of(pace.slow_mile);
  if (on_track(order.situation)) {
    draft.continuous_run = Metres(metres);
    draft.text = fmt::format("{}×{:.0f} m at {}: {}; {} easy jog or walk between{}", repeats, metres, label,
                             pace_text(pace, order.situation), span_text(rest_s), kWalkRest);
    return draft;
  }
  // Without a track the clock ends the repeat, rounded down to five seconds.
  constexpr double kClockStep = 5.0;
  const double run_s = std::floor(pace.fast_mile.value() * metres / kMetresPerMile / kClockStep) * kClockStep;
  draft.continuous_run = Metres(run_s * metres_per_second(pace.fast_mile));
  draft.text =
      fmt::format("{}× {} at {}: {}; {} easy jog or walk between{}", repeats, clock_text(Seconds(run_s)),
                  label, pace_text(pace, order.situation), span_text(rest_s), kWalkRest);
  return draft;
}

// Quarters at the goal's pace when it is a challenge and within reach; never over 3 % faster than
// proven.
std::optional<Draft> goal_quarters(const Ability& ability, const Order& order) {
  const Situation& s = order.situation;
  const auto goal = s.goal.find(order.work.trains);
  const auto reach = s.goal_in_reach.find(order.work.trains);
  if (goal == s.goal.end() || reach == s.goal_in_reach.end() || !reach->second) return std::nullopt;
  if (s.weeks_to_test > kGoalPaceFromWeek || s.nth_this_week > 0) return std::nullopt;
  if (goal->second > ability.expected) return std::nullopt;  // slower than what is there already
  const double fastest = kFastestOverProven * ability.proven;
  const Seconds mile(std::max(goal->second, fastest) * kMetresPerMile / run_distance(order).value());
  return repeats_at(kQuarter, {mile, mile}, goal->second < fastest ? "near goal pace" : "goal pace", order);
}

}  // namespace

Draft write_intervals(const Order& order) {
  const Situation& s = order.situation;
  const auto ability = ability_of(order);
  if (!ability) return is_new(s) ? beginner_repeats(std::nullopt, order) : effort_repeats(order);
  const PaceBand pace = safe_pace(interval_pace, *ability, run_distance(order));
  // Who comes back to running, or may not run that far, begins as a beginner does.
  const bool too_far = run_cap(s) < Metres(kQuarter);
  if (too_far || s.coming_back || (is_new(s) && s.training_week < kQuartersFromWeek))
    return beginner_repeats(pace, order);
  if (const auto goal = goal_quarters(*ability, order)) return *goal;
  const double half_s = pace.slow_mile.value() * kHalf / kMetresPerMile;
  const bool halves = s.training_week % 2 == 1 && half_s <= kLongestRepeat && run_cap(s) >= Metres(kHalf);
  return repeats_at(halves ? kHalf : kQuarter, pace, "interval pace", order);
}

}  // namespace backplan

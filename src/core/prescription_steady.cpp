// Tempo and easy runs: one unbroken run or a few pieces, within the run rule; brisk walking for the
// rest of the block.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "prescription_parts.hpp"

namespace backplan {
namespace {

// Tempo: minutes at threshold pace in a full block, in pieces with two minutes of walking between.
constexpr int kTempoMinutes = 20;
constexpr int kTempoMinutesLong = 24;  // `long` background
constexpr int kTempoMinutesNew = 12;
constexpr int kTempoMinutesShort = 15;  // most in a short block
constexpr int kTempoWarmUp = 5;         // minutes of walking and easy jogging before
constexpr int kTempoWalk = 2;
constexpr int kNewPieceMinutes = 3;  // a beginner's first pieces, one minute more each week

// A beginner runs four minutes and walks one, the run a minute longer each week.
constexpr int kNewRunMinutes = 4;
constexpr int kNewWalkMinutes = 1;
constexpr int kNewMostRunMinutes = 15;
// From this pace down people walk and jog by turns (ACSM: below 134 m/min running is a jog, below
// 100 m/min most walk).
constexpr double kJogWalkMile = 15.0 * kSecondsPerMinute;

// Speeds that an unmeasured runner will not pass at these efforts; they keep the run rule.
constexpr double kFastestUnknownEasy = 3.8;   // m/s, 7:03 a mile
constexpr double kFastestUnknownTempo = 4.8;  // m/s, 5:35 a mile

constexpr double kMileStep = 0.1;  // printed distances

constexpr const char* kSteadyStop =
    "walk when you cannot talk in sentences; pain in shin, foot or hip, or a limp, ends it";
constexpr const char* kTempoStop =
    "walk when the pace slips 5 %; pain in shin, foot or hip, or a limp, ends it";

Draft walk_only(const Order& order) {
  Draft draft;
  draft.stop = kSteadyStop;
  draft.continuous_run = Metres(0.0);
  draft.text = fmt::format("Brisk walk {} min, hills if there are any; no running yet", order.minutes);
  return draft;
}

// Whole minutes of running that the run rule allows at this speed.
int minutes_allowed(double metres_per_s, const Situation& s) {
  return static_cast<int>(std::floor(run_cap(s).value() / metres_per_s / kSecondsPerMinute));
}

struct Piece {
  int minutes = 0;
  int count = 0;
};

int tempo_minutes(const Order& order) {
  const Situation& s = order.situation;
  int most = kTempoMinutes;
  if (is_new(s)) most = kTempoMinutesNew;
  if (s.candidate->trains_as() == Background::long_trained) most = kTempoMinutesLong;
  if (order.size != BlockSize::full) most = std::min(most, kTempoMinutesShort);
  return is_easy_phase(s) ? (most + 1) / 2 : most;
}

// Equal pieces, none longer than the run rule and the beginner's limit, that fit with their walks.
Piece tempo_pieces(int allowed, const Order& order) {
  const Situation& s = order.situation;
  const int total = tempo_minutes(order);
  int longest = std::min(allowed, total);
  if (is_new(s)) longest = std::min(longest, kNewPieceMinutes + s.training_week);
  if (longest < 1) return {};
  const int count = (total + longest - 1) / longest;
  const int each = std::max(1, total / count);
  const int fit =
      sets_that_fit(order.minutes - kTempoWarmUp, each * kSecondsPerMinute, kTempoWalk * kSecondsPerMinute);
  return {each, std::min(count, fit)};
}

Draft tempo(const std::optional<PaceBand>& pace, const Order& order) {
  const Situation& s = order.situation;
  const double speed = pace ? metres_per_second(pace->fast_mile) : kFastestUnknownTempo;
  const Piece piece = tempo_pieces(minutes_allowed(speed, s), order);
  if (piece.count == 0) return walk_only(order);
  Draft draft;
  draft.stop = kTempoStop;
  draft.continuous_run = Metres(piece.minutes * kSecondsPerMinute * speed);
  const std::string how =
      pace ? "at threshold pace: " + pace_text(*pace, s) : "at effort 7 of 10 (short sentences only)";
  const std::string run = piece.count == 1 ? fmt::format("{} min {}", piece.minutes, how)
                                           : fmt::format("{}×{} min {}, {} min walk between", piece.count,
                                                         piece.minutes, how, kTempoWalk);
  draft.text = fmt::format("Walk {} min, then {}; brisk walk for the rest", kTempoWarmUp, run);
  return draft;
}

// Running and walking by turns of equal length: turns of the longest allowed run with some walking
// left over, or one turn more of a shorter run, whichever runs more.
Draft turns(int longest, double speed, const std::string& how, const Order& order) {
  const int whole = order.minutes + kNewWalkMinutes;  // the last walk may fall away
  const int few = std::max(1, whole / (longest + kNewWalkMinutes));
  const int shorter = whole / (few + 1) - kNewWalkMinutes;
  const bool one_more = (few + 1) * std::min(shorter, longest) > few * longest;
  const int count = one_more ? few + 1 : few;
  const int run_minutes = one_more ? std::min(shorter, longest) : longest;
  Draft draft;
  draft.stop = kSteadyStop;
  draft.continuous_run = Metres(run_minutes * kSecondsPerMinute * speed);
  draft.text =
      fmt::format("{}× run {} min / brisk walk {} min, {}", count, run_minutes, kNewWalkMinutes, how);
  return draft;
}

Draft easy_by_effort(const Order& order) {
  const std::string how = "so easily that you can talk in full sentences (effort 4 to 5 of 10)";
  const int allowed = std::min(minutes_allowed(kFastestUnknownEasy, order.situation), order.minutes);
  if (allowed < 1) return walk_only(order);
  Draft draft;
  draft.stop = kSteadyStop;
  draft.continuous_run = Metres(allowed * kSecondsPerMinute * kFastestUnknownEasy);
  draft.text = fmt::format("Run {} min {}", allowed, how);
  if (allowed < order.minutes) draft.text += fmt::format(", brisk walk {} min", order.minutes - allowed);
  return draft;
}

Draft easy_distance(const PaceBand& pace, const Order& order) {
  const double in_time = order.minutes * kSecondsPerMinute / pace.slow_mile.value();
  const double allowed = to_miles(run_cap(order.situation)).value();
  // The slack keeps a cap of exactly two miles at two miles.
  const double miles = std::floor(std::min(in_time, allowed) / kMileStep + 1e-9) * kMileStep;
  if (!(miles > 0.0)) return walk_only(order);
  Draft draft;
  draft.stop = kSteadyStop;
  draft.continuous_run = std::min(to_metres(Miles(miles)), run_cap(order.situation));
  const int walk =
      order.minutes - static_cast<int>(std::ceil(miles * pace.slow_mile.value() / kSecondsPerMinute));
  draft.text =
      fmt::format("Run {:.1f} mi easy, talking all the way: {}", miles, pace_text(pace, order.situation));
  if (walk > 0) draft.text += fmt::format("; brisk walk {} min", walk);
  return draft;
}

Draft easy(const std::optional<PaceBand>& pace, const Order& order) {
  const Situation& s = order.situation;
  const double speed = pace ? metres_per_second(pace->fast_mile) : kFastestUnknownEasy;
  const bool slow = pace && pace->slow_mile.value() > kJogWalkMile;
  if (is_new(s) || slow) {
    const int by_week = std::min(kNewRunMinutes + s.training_week, kNewMostRunMinutes);
    const int run = std::min({by_week, minutes_allowed(speed, s), order.minutes});
    if (run < 1) return walk_only(order);
    const std::string how = pace ? "easy, talking all the way: " + pace_text(*pace, s)
                                 : "so easily that you can talk in full sentences (effort 4 to 5 of 10)";
    return turns(run, speed, how, order);
  }
  return pace ? easy_distance(*pace, order) : easy_by_effort(order);
}

}  // namespace

Draft write_steady(const Order& order) {
  const auto transfer = order.work.transfer.find(order.work.trains);
  const bool threshold = transfer != order.work.transfer.end() && transfer->second >= kThresholdTransfer;
  const auto ability = ability_of(order);
  std::optional<PaceBand> pace;
  if (ability) pace = safe_pace(threshold ? threshold_pace : easy_pace, *ability, run_distance(order));
  Draft draft = threshold ? tempo(pace, order) : easy(pace, order);
  if (pace && draft.continuous_run > Metres(0.0)) draft.quarter = quarter_of(pace->slow_mile);
  return draft;
}

}  // namespace backplan

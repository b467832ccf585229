// The shuttle (sprint-drag-carry) and the power throw: full effort on little volume.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "prescription_parts.hpp"

namespace backplan {
namespace {

// The event: five legs of 50 m over a 25 m lane, 90 lb sled, two 40 lb kettlebells (test protocol).
constexpr int kLegs = 5;
constexpr const char* kLegsText = "sprint, drag 90 lb, lateral, carry 2×40 lb, sprint";
constexpr double kLegSeconds = 45.0;  // of a leg when the ability is not known: a slow one
constexpr double kSlowestPart = 1.5;  // the slowest leg (drag) against the mean leg
constexpr double kLegRest = 90.0;
constexpr double kLegRestShort = 60.0;
constexpr double kRoundRestMinutes = 2.0;
constexpr double kRoundRestStep = 30.0;  // seconds, of a printed rest
constexpr int kMostRounds = 3;
constexpr double kRestAfterRehearsalMinutes = 5.0;
constexpr int kExtraLegs = 3;  // drags and carries after a rehearsal

constexpr const char* kShuttleStop =
    "stop when a leg is a tenth slower than its first; pain in back, shin, foot or hip ends it";

// Throws.
constexpr double kThrowSetUpMinutes = 2.0;
constexpr int kThrows = 10;
constexpr int kThrowsShort = 6;
constexpr double kThrowSeconds = 15.0;  // throw, measure, fetch
constexpr double kThrowRest = 60.0;
constexpr const char* kThrowStop = "stop when throws get shorter; pain in back or shoulder ends it";

double leg_seconds(const std::optional<Ability>& ability) {
  return ability ? std::max(ability->expected, ability->proven) / kLegs : kLegSeconds;
}

Draft shuttle_rehearsal(const std::optional<Ability>& ability, const Order& order) {
  Draft draft;
  draft.rehearsal = true;
  draft.sets = 1;
  draft.stop = kShuttleStop;
  draft.text = "Rehearsal: one full run, timed as on test day; log it";
  if (ability) draft.text += fmt::format(" (about {} now)", clock_text(Seconds(ability->expected)));
  const double course_s = leg_seconds(ability) * kLegs;
  draft.rounds = LaneRounds{0.0, course_s};
  if (is_easy_phase(order.situation)) return draft;
  const double rest = kLegRestShort;
  const double leg_s = leg_seconds(ability) * kSlowestPart;
  const double taken = (course_s + order.situation.candidate->equipment.course_wait_s) / kSecondsPerMinute +
                       kRestAfterRehearsalMinutes + kSetUpMinutes;
  const double left = (order.minutes - taken) / 2.0;  // for the drags, and for the carries
  if (left * kSecondsPerMinute < leg_s) return draft;
  const int pairs = std::min(sets_that_fit(left, leg_s, rest), kExtraLegs);
  draft.text += fmt::format("; rest {:.0f} min, then {}× drag and {}× carry singly, rest {}",
                            kRestAfterRehearsalMinutes, pairs, pairs, span_text(rest));
  draft.rounds->last_s +=
      kRestAfterRehearsalMinutes * kSecondsPerMinute + 2.0 * pairs * (leg_s + rest) - rest;
  return draft;
}

// The rest between rounds beyond that between legs. Who waits for a shared sled gets a second round before
// the whole of it.
struct Rounds {
  int number = 1;
  double more_rest_s = 0.0;
};

Rounds rounds_of(double round_s, const Order& order) {
  const double wait_s = order.situation.candidate->equipment.leg_wait_s;
  const double minutes = order.minutes - kSetUpMinutes - wait_s / kSecondsPerMinute;
  const double usual = kRoundRestMinutes * kSecondsPerMinute;
  int fit = sets_that_fit(minutes, round_s, usual);
  if (wait_s > 0.0 && fit == 1) fit = std::min(2, sets_that_fit(minutes, round_s, 0.0));
  Rounds out;
  out.number = sets_in_phase(std::min(fit, kMostRounds), order.situation);
  if (out.number == 1) return out;
  const double left = (minutes * kSecondsPerMinute - out.number * round_s) / (out.number - 1);
  out.more_rest_s = std::min(usual, std::floor(left / kRoundRestStep) * kRoundRestStep);
  return out;
}

}  // namespace

Draft write_shuttle(const Order& order) {
  const Situation& s = order.situation;
  const auto ability = ability_of(order);
  if (s.rehearsal && !no_maximal_work(s)) return shuttle_rehearsal(ability, order);
  const double rest = order.size == BlockSize::full ? kLegRest : kLegRestShort;
  const double round_s = kLegs * (leg_seconds(ability) + rest);
  const Rounds rounds = rounds_of(round_s, order);
  const std::string effort = s.form_first ? "smooth, effort 6 of 10"
                             : ability    ? "effort 9 of 10"
                                          : "effort 8 of 10";
  Draft draft;
  draft.stop = kShuttleStop;
  draft.sets = rounds.number;
  draft.rounds = LaneRounds{round_s + rounds.more_rest_s, round_s - rest};
  draft.text = fmt::format(
      "{} round{}, legs singly, 50 m each: {}; {}; rest {}{}", rounds.number, rounds.number == 1 ? "" : "s",
      kLegsText, effort, span_text(rest),
      rounds.more_rest_s > 0.0 ? fmt::format(", {} more between rounds", span_text(rounds.more_rest_s)) : "");
  return draft;
}

Draft write_throw(const Order& order) {
  const Situation& s = order.situation;
  const auto ability = ability_of(order);
  const int most = order.size == BlockSize::full ? kThrows : kThrowsShort;
  const int fit = sets_that_fit(order.minutes - kThrowSetUpMinutes, kThrowSeconds, kThrowRest);
  const int throws = sets_in_phase(std::min(most, fit), s);
  Draft draft;
  draft.stop = kThrowStop;
  draft.rehearsal = s.rehearsal && !no_maximal_work(s);
  const std::string effort =
      no_maximal_work(s) ? "half effort, learn the release" : "full effort, rest 1 min each";
  draft.text = fmt::format("{} backward overhead throws of the 10 lb ball from the hips, {}", throws, effort);
  if (draft.rehearsal) draft.text += "; measure all as on test day, log the best";
  if (ability && !no_maximal_work(s)) draft.text += fmt::format(" (about {:.1f} m now)", ability->expected);
  return draft;
}

}  // namespace backplan

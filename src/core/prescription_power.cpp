// The shuttle (sprint-drag-carry) and the power throw: full effort on little volume.
#include <fmt/format.h>

#include <algorithm>
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
  if (is_easy_phase(order.situation)) return draft;
  const double rest = kLegRestShort;
  const double taken =
      leg_seconds(ability) * kLegs / kSecondsPerMinute + kRestAfterRehearsalMinutes + kSetUpMinutes;
  const int pairs = sets_that_fit((order.minutes - taken) / 2.0, leg_seconds(ability) * kSlowestPart, rest);
  draft.text += fmt::format("; rest {:.0f} min, then {}× drag and {}× carry singly, rest {}",
                            kRestAfterRehearsalMinutes, std::min(pairs, kExtraLegs),
                            std::min(pairs, kExtraLegs), span_text(rest));
  return draft;
}

}  // namespace

Draft write_shuttle(const Order& order) {
  const Situation& s = order.situation;
  const auto ability = ability_of(order);
  if (s.rehearsal && !no_maximal_work(s)) return shuttle_rehearsal(ability, order);
  const double rest = order.size == BlockSize::full ? kLegRest : kLegRestShort;
  const double round_s = kLegs * (leg_seconds(ability) + rest);
  const int fit =
      sets_that_fit(order.minutes - kSetUpMinutes, round_s, kRoundRestMinutes * kSecondsPerMinute);
  const int rounds = sets_in_phase(std::min(fit, kMostRounds), s);
  const std::string effort = s.form_first ? "smooth, effort 6 of 10"
                             : ability    ? "effort 9 of 10"
                                          : "effort 8 of 10";
  Draft draft;
  draft.stop = kShuttleStop;
  draft.sets = rounds;
  draft.text =
      fmt::format("{} round{}, legs singly, 50 m each: {}; {}; rest {}{}", rounds, rounds == 1 ? "" : "s",
                  kLegsText, effort, span_text(rest),
                  rounds == 1 ? "" : fmt::format(", {:.0f} min more between rounds", kRoundRestMinutes));
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

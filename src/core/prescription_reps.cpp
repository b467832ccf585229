// Push-ups and holds: shares of the present maximum, never to failure except in a rehearsal.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

#include "prescription_parts.hpp"

namespace backplan {
namespace {

// Push-ups. Sets of 40 to 60 % of the present maximum, the day at most 2.5 maxima (suggestion from
// the studies on frequency: Colquhoun 2018, Johnsen 2021; our judgement on the figures).
constexpr double kPressShares[] = {0.50, 0.45, 0.55};  // first, second, third day of the week
constexpr double kDayMaxima = 2.5;
constexpr int kMostPressSets = 6;
constexpr double kSecondsPerPushUp = 3.0;  // a hand-release repetition in steady rhythm
constexpr double kPressRest = 90.0;
constexpr double kPressRestShort = 60.0;
// The present maximum is the forecast, but not further over the proven result than this.
constexpr double kRepStep = 2.0;
constexpr double kRepStepShare = 0.10;
// Under ten push-ups (the data's `few`): hands raised (easier, Ebben 2011) and slow lowering.
constexpr int kRaisedRepetitions = 5;
constexpr int kMostLowerings = 6;
constexpr double kLoweringSeconds = 15.0;  // five seconds down, back up from the knees
constexpr Seconds kUsualLimit{120.0};      // where the standard does not say
constexpr Seconds kLeastRehearsal{60.0};   // without a clock
constexpr double kAfterRehearsalMinutes = 4.0;

const std::string kRaised = "with hands raised to where ten would go";
const std::string kLowered = "to the floor";
const std::string kFullReach = "arms straight at the top each time";
const std::string kPressStop = "stop a set when the hips sag; sharp pain in shoulder, elbow or wrist ends it";

// Holds. 50 to 70 % of the present maximum (our judgement; three sessions a week gained 25 % in
// eight weeks, Hung 2019).
constexpr double kHoldShares[] = {0.60, 0.55, 0.65};
constexpr double kLeastHoldShare = 0.50;  // where longer holds would leave time for one only
constexpr int kMostHolds = 5;
constexpr double kHoldRest = 60.0;
constexpr double kHoldRounding = 5.0;       // holds are set in steps of five seconds
constexpr double kHoldRoundingFrom = 60.0;  // from this maximum on
constexpr double kUnknownHold = 45.0;       // the longest that an unmeasured hold may plan for
constexpr int kSupportMinutes = 4;
constexpr int kSupportMinutesShort = 3;
constexpr double kAfterHoldMinutes = 3.0;
constexpr const char* kSupport = "side planks, dead bugs, hip bridges";

constexpr const char* kHoldStop = "stop when the hips drop or the low back takes over; back pain ends it";

template <std::size_t N>
double share_of_day(const double (&shares)[N], int nth_this_week) {
  return shares[static_cast<std::size_t>(std::clamp(nth_this_week, 0, static_cast<int>(N) - 1))];
}

double press_rest(const Order& order) { return order.size == BlockSize::full ? kPressRest : kPressRestShort; }

int present_maximum(const Ability& ability) {
  const double most = ability.proven + std::max(kRepStep, kRepStepShare * ability.proven);
  return static_cast<int>(std::floor(std::min(ability.expected, most)));
}

// "hand-release push-ups": the event of this test that the work trains, as it is called there.
std::string exercise(const Order& order) {
  const Event* event = order.situation.standard->first_of_model(order.work.trains);
  return event == nullptr ? order.work.name : event->name + "s";
}

const std::string& or_else(const std::string& words, const std::string& otherwise) {
  return words.empty() ? otherwise : words;
}

std::string press_stop(const Order& order) { return or_else(order.work.words.stop, kPressStop); }

// What every repetition must be: as the work has it, else as the test asks for it.
std::string each_words(const Order& order) {
  const Event* event = order.situation.standard->first_of_model(order.work.trains);
  const std::string own = event != nullptr ? event->each : std::string();
  return or_else(order.work.words.each, or_else(own, kFullReach));
}

Seconds time_limit(const Order& order) {
  const Event* event = order.situation.standard->first_of_model(order.work.trains);
  return event != nullptr && event->time_limit ? *event->time_limit : kUsualLimit;
}

std::string limit_text(Seconds limit) {
  if (limit == kUsualLimit) return "two minutes";
  return limit == Seconds(60.0) ? "one minute" : span_text(limit.value());
}

Draft press_by_effort(const Order& order) {
  const double rest = press_rest(order);
  const int sets = std::min(5, sets_that_fit(order.minutes, 20 * kSecondsPerPushUp, rest));
  Draft draft;
  draft.stop = press_stop(order);
  draft.text =
      fmt::format("{} sets of {}, each at effort 7 of 10 with four left, 20 at most; rest {}; count and log",
                  sets_in_phase(sets, order.situation), exercise(order), span_text(rest));
  return draft;
}

Draft press_when_few(int maximum, const Order& order) {
  const double rest = press_rest(order);
  const int lowerings = std::clamp(static_cast<int>(std::floor(kDayMaxima * maximum)), 1, kMostLowerings);
  const double lowering_minutes = (rest + lowerings * kLoweringSeconds) / 60.0;
  const int fit =
      sets_that_fit(order.minutes - lowering_minutes, kRaisedRepetitions * kSecondsPerPushUp, rest);
  Draft draft;
  draft.stop = press_stop(order);
  const WorkWords& words = order.work.words;
  draft.text = fmt::format("{}×{} {}, rest {}; then {} slow lowering{} {}, 5 s each",
                           sets_in_phase(std::min(5, fit), order.situation), kRaisedRepetitions,
                           or_else(words.easier, kRaised), span_text(rest), lowerings,
                           lowerings == 1 ? "" : "s", or_else(words.lowering, kLowered));
  return draft;
}

// Sets of `repetitions` that keep what is left of the day's total and of the minutes.
int press_sets(int repetitions, double total, double minutes, const Order& order) {
  const int by_total = static_cast<int>(std::floor(total / repetitions));
  const int by_time = sets_that_fit(minutes, repetitions * kSecondsPerPushUp, press_rest(order));
  return std::max(1, std::min({kMostPressSets, by_total, by_time}));
}

Draft press_rehearsal(const std::optional<Ability>& ability, const Order& order) {
  Draft draft;
  draft.rehearsal = true;
  const Seconds limit = time_limit(order);
  const bool clock = limit > Seconds(0.0);
  const std::string when = clock ? " for " + limit_text(limit) : std::string(" without a clock");
  draft.stop = fmt::format("stop {}when form fails; sharp pain in shoulder, elbow or wrist ends it",
                           clock ? "at " + limit_text(limit) + " or " : std::string());
  draft.text = fmt::format("Rehearsal: {}{}, graded as on test day; log the count", exercise(order), when);
  const int maximum = ability ? present_maximum(*ability) : 0;
  if (ability) draft.text += fmt::format(" (about {} now)", std::max(maximum, 1));
  if (maximum < order.work.press.few || order.size != BlockSize::full || is_easy_phase(order.situation))
    return draft;
  const int repetitions = static_cast<int>(std::lround(share_of_day(kPressShares, 1) * maximum));
  const double minutes =
      order.minutes - std::max(limit, kLeastRehearsal).value() / 60.0 - kAfterRehearsalMinutes;
  const int sets = std::min(2, press_sets(repetitions, (kDayMaxima - 1.0) * maximum, minutes, order));
  draft.text +=
      fmt::format("; rest 4 min, then {}×{}, rest {}", sets, repetitions, span_text(press_rest(order)));
  return draft;
}

double hold_seconds(double maximum, double share) {
  const double step = maximum < kHoldRoundingFrom ? 1.0 : kHoldRounding;
  return std::max(1.0, std::round(maximum * share / step) * step);
}

int support_minutes(const Order& order) {
  return order.size == BlockSize::full ? kSupportMinutes : kSupportMinutesShort;
}

std::string support_text(const Order& order) {
  return fmt::format("then {} {} min", kSupport, support_minutes(order));
}

Draft graded_hold(const std::optional<Ability>& ability, const Order& order) {
  Draft draft;
  draft.stop = "the hold ends when the position is lost; back pain ends it at once";
  draft.text = "One graded hold to the end, form and clock as on test day; log it";
  if (ability)
    draft.text += fmt::format(" (about {} now)", clock_text(Seconds(std::floor(ability->expected))));
  const double hold_minutes = (ability ? ability->expected : 2.0 * kUnknownHold) / 60.0;
  if (hold_minutes + kAfterHoldMinutes + support_minutes(order) <= order.minutes) {
    draft.text += "; rest 3 min, " + support_text(order);
  }
  return draft;
}

}  // namespace

Draft write_press(const Order& order) {
  const Situation& s = order.situation;
  const auto ability = ability_of(order);
  if (s.rehearsal && !no_maximal_work(s)) return press_rehearsal(ability, order);
  if (!ability) return press_by_effort(order);
  const int maximum = present_maximum(*ability);
  if (maximum < order.work.press.few) return press_when_few(maximum, order);

  const int repetitions =
      static_cast<int>(std::lround(share_of_day(kPressShares, s.nth_this_week) * maximum));
  const int sets = press_sets(repetitions, kDayMaxima * maximum, order.minutes, order);
  Draft draft;
  draft.stop = press_stop(order);
  draft.text =
      fmt::format("{}{}×{} {} ({:.0f} % of {}), {}; rest {}", is_easy_phase(s) ? "Fewer sets: " : "",
                  sets_in_phase(sets, s), repetitions, exercise(order), 100.0 * repetitions / maximum,
                  maximum, each_words(order), span_text(press_rest(order)));
  return draft;
}

Draft write_hold(const Order& order) {
  const Situation& s = order.situation;
  const auto ability = ability_of(order);
  if (s.graded_hold && !no_maximal_work(s)) return graded_hold(ability, order);
  const double minutes = order.minutes - support_minutes(order) - kHoldRest / 60.0;
  Draft draft;
  draft.stop = kHoldStop;
  if (!ability) {
    const int sets = std::min(kMostHolds, sets_that_fit(minutes, kUnknownHold, kHoldRest));
    draft.text =
        fmt::format("{} planks at effort 7 of 10, {:.0f} s at most, a third left each time; rest 1 min; {}",
                    sets_in_phase(sets, s), kUnknownHold, support_text(order));
    return draft;
  }
  const double share = share_of_day(kHoldShares, s.nth_this_week);
  const double most = ability->proven * (1.0 + kRepStepShare);
  const double maximum = std::min(ability->expected, most);
  double hold = hold_seconds(maximum, share);
  if (sets_that_fit(minutes, hold, kHoldRest) < 2) hold = std::max(1.0, std::ceil(maximum * kLeastHoldShare));
  const int sets = std::min(kMostHolds, sets_that_fit(minutes, hold, kHoldRest));
  draft.text =
      fmt::format("{}{}×{} plank ({:.0f} % of {}), rest 1 min; {}", is_easy_phase(s) ? "Fewer sets: " : "",
                  sets_in_phase(sets, s), clock_text(Seconds(hold)), 100.0 * hold / maximum,
                  clock_text(Seconds(std::floor(maximum))), support_text(order));
  return draft;
}

}  // namespace backplan

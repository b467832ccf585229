#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "backplan/strength.hpp"
#include "bar_loading.hpp"
#include "prescription_parts.hpp"

namespace backplan {
namespace {

// Sets, repetitions and load of one kind of day; shares of the one-repetition maximum.
struct Scheme {
  int sets = 0;
  int repetitions = 0;
  double low = 0.0;
  double high = 0.0;
};
// Design of the lift days (common practice, shaped by Rhea 2003 and Peterson 2004): from more
// repetitions to heavier ones as the test comes near.
constexpr Scheme kBase{5, 5, 0.70, 0.77};
constexpr Scheme kMiddle{4, 4, 0.77, 0.82};
constexpr Scheme kHeavy{3, 3, 0.82, 0.86};
constexpr Scheme kFormFirst{3, 5, 0.60, 0.65};
constexpr int kFindingSets = 4;        // triples up to a comfortable one
constexpr double kTripleShare = 0.89;  // the top triple: 88 to 90 %
constexpr int kTripleRepetitions = 3;

// Weeks to the test from which each scheme holds (week 1 is the taper), and how long it climbs from
// its low to its high share.
constexpr int kHeavyFromWeek = 5;
constexpr int kMiddleFromWeek = 9;
constexpr double kStageWeeks = 3.0;
constexpr double kBaseWeeks = 5.0;

constexpr double kInReserve = 2.0;        // repetitions left at the end of each set
constexpr double kLighterDay = 0.05;      // the week's second lift is so much lighter, of the maximum
constexpr double kStepPounds = 10.0;      // the most over a proven set: 10 lb
constexpr double kStepShare = 0.05;       // or 5 %
constexpr double kFarBelowWanted = 0.93;  // the plates end well under what was wanted

// Minutes inside the block: ramp-up sets, then the sets, then assistance.
constexpr double kRepetitionSeconds = 5.0;
constexpr double kPlateSeconds = 20.0;  // changing plates, taking position
constexpr int kAssistMinutes = 8;
constexpr int kAssistMinutesShort = 5;
constexpr const char* kAssist = "rows, carries, split squats";

constexpr const char* kLiftStop = "stop the set when the back rounds; any pain in back or legs ends it";

// How far a beginner may have come: heavier schemes need weeks of lifting before them.
int most_stage(const Situation& s) {
  if (is_new(s)) return s.training_week / 2 - 1;
  const bool trained = s.candidate->trains_as() == Background::long_trained;
  return s.training_week + (trained ? 1 : 0);
}

Scheme scheme_of(const Situation& s) {
  if (s.form_first) return kFormFirst;
  const int by_date = s.weeks_to_test <= kHeavyFromWeek ? 2 : s.weeks_to_test <= kMiddleFromWeek ? 1 : 0;
  const int stage = std::min(by_date, most_stage(s));
  return stage >= 2 ? kHeavy : stage == 1 ? kMiddle : kBase;
}

// Where between its low and high share the scheme stands this week, 0 to 1.
double climb_of(const Scheme& scheme, const Situation& s) {
  double done = s.training_week / kBaseWeeks;
  if (s.form_first) done = s.training_week;
  if (scheme.repetitions == kMiddle.repetitions) done = (kMiddleFromWeek - s.weeks_to_test) / kStageWeeks;
  if (scheme.repetitions == kHeavy.repetitions) done = (kHeavyFromWeek - s.weeks_to_test) / kStageWeeks;
  return std::clamp(done, 0.0, 1.0);
}

double rest_seconds(const Scheme& scheme) { return scheme.repetitions >= kBase.repetitions ? 150.0 : 180.0; }

// The scheme's sets, two thirds of them in a short block, as far as ramp-up and assistance leave
// time for them.
int sets_of(const Scheme& scheme, const Order& order) {
  const bool full = order.size == BlockSize::full;
  const int sets = full ? scheme.sets : std::max(2, (2 * scheme.sets) / 3);
  const int around = full ? kRampMinutes + kAssistMinutes : kRampMinutesShort + kAssistMinutesShort;
  const double set_s = kPlateSeconds + kRepetitionSeconds * scheme.repetitions;
  const int fit = sets_that_fit(order.minutes - around, set_s, rest_seconds(scheme));
  return sets_in_phase(std::min(sets, fit), order.situation);
}

// The proven three-repetition maximum as a set of so many repetitions with `reserve` left, and one
// step over it: no printed load goes beyond.
Pounds load_cap(Pounds proven_max, int repetitions, double reserve) {
  const Pounds one = one_rep_max_from_three(proven_max);
  const double factor = one_rep_max(Pounds(1.0), repetitions + reserve).value();
  const Pounds set = one / factor;
  return set + Pounds(std::max(kStepPounds, kStepShare * set.value()));
}

std::string plates_text(Pounds load, const Equipment& equipment) {
  const auto plates = plates_a_side(load, equipment);
  if (!plates || plates->empty()) return "empty bar";
  std::string text;
  for (const double plate : *plates) text += fmt::format("{}{:g}", text.empty() ? "" : "+", plate);
  return text + " a side";
}

std::string assist_text(const Order& order) {
  const bool full = order.size == BlockSize::full;
  return fmt::format("then {} {} min", kAssist, full ? kAssistMinutes : kAssistMinutesShort);
}

Draft find_the_load(const Order& order) {
  const Equipment& equipment = order.situation.candidate->equipment;
  Draft draft;
  draft.stop = kLiftStop;
  draft.load = Pounds(equipment.bar_lb);
  draft.sets = kFormFirst.sets;
  if (order.situation.form_first) {
    draft.text =
        fmt::format("Form first: 3×5 with the empty bar ({:g} lb), flat back, slow down; rest 2 min; {}",
                    equipment.bar_lb, assist_text(order));
    return draft;
  }
  draft.sets = kFindingSets;
  draft.text = fmt::format(
      "Find the load: triples from the empty bar ({:g} lb) up, rest 2 min, to a comfortable one with three "
      "left; "
      "log it; {}",
      equipment.bar_lb, assist_text(order));
  return draft;
}

// The empty bar is heavier than the day's load.
Draft under_the_bar(const Scheme& scheme, Pounds maximum, const Order& order) {
  const Equipment& equipment = order.situation.candidate->equipment;
  const Pounds bar(equipment.bar_lb);
  // Solves bar (1 + 0.033 n) = maximum for n, less the reserve.
  const double per_repetition = one_rep_max(Pounds(1.0), 1.0).value() - 1.0;
  const double to_failure = (maximum / bar - 1.0) / per_repetition;
  const int repetitions = std::min(scheme.repetitions, static_cast<int>(std::floor(to_failure - kInReserve)));
  const int sets = sets_of(scheme, order);
  Draft draft;
  draft.stop = kLiftStop;
  if (repetitions >= 2) {
    draft.sets = sets;
    draft.load = bar;
    draft.text =
        fmt::format("{}×{} with the empty bar ({:g} lb), two left in reserve, slow down; rest {}; {}", sets,
                    repetitions, bar.value(), span_text(rest_seconds(scheme)), assist_text(order));
    return draft;
  }
  draft.text = fmt::format("{}×8 with {}, as the {:g} lb bar is still too heavy for sets; rest 2 min; {}",
                           sets, equipment.kettlebells ? "one 40 lb kettlebell" : "a light sandbag or pack",
                           bar.value(), assist_text(order));
  return draft;
}

struct LiftDay {
  Scheme scheme;
  int sets = 0;
  bool slow_anyway = false;  // form first
  Pounds maximum;            // one repetition, expected
  Pounds wanted;             // not above the cap
  Pounds load;               // what bar and plates make of it
};

std::string shares_text(Pounds load, Pounds maximum) {
  return fmt::format("{:.0f} % of 1RM = {:.0f} % of 3RM", 100.0 * (load / maximum),
                     100.0 * (load / three_rep_max(maximum)));
}

std::string sets_text(const LiftFigures& lift, Pounds load, const Equipment& equipment) {
  const bool plates_end = load < lift.wanted * kFarBelowWanted;
  return fmt::format("{}×{} at {:g} lb ({}), {}{}", lift.sets, lift.repetitions, load.value(),
                     plates_text(load, equipment), shares_text(load, lift.maximum),
                     plates_end && !lift.slow_anyway ? ", lowered for 3 s" : "");
}

LiftFigures figures_of(const LiftDay& day) {
  LiftFigures lift;
  lift.sets = day.sets;
  lift.repetitions = day.scheme.repetitions;
  lift.maximum = day.maximum;
  lift.wanted = day.wanted;
  lift.sets_load = day.load;
  lift.slow_anyway = day.slow_anyway;
  return lift;
}

std::optional<Draft> with_top_triple(const LiftDay& day, Pounds proven, const Order& order) {
  const Equipment& equipment = order.situation.candidate->equipment;
  const Pounds triple =
      loadable(day.maximum * kTripleShare, load_cap(proven, kTripleRepetitions, 0.0), equipment);
  if (triple <= day.load) return std::nullopt;  // cap or plates leave no heavier load
  Draft draft;
  draft.stop = kLiftStop;
  draft.load = triple;
  draft.sets = day.sets + 1;
  LiftFigures lift = figures_of(day);
  lift.top_triple = true;
  lift.rest = fmt::format("rest {}; {}", span_text(rest_seconds(day.scheme)), kAssist);
  draft.text = lift_text(lift, triple, equipment);
  draft.lift = std::move(lift);
  return draft;
}

std::string opening(const Situation& s, bool lighter) {
  if (s.form_first) return "Form first, slow down: ";
  if (is_easy_phase(s)) return "Fewer sets: ";
  return lighter ? "Lighter day: " : "";
}

}  // namespace

std::string lift_text(const LiftFigures& lift, Pounds load, const Equipment& equipment) {
  if (lift.top_triple) {
    const Pounds sets = loadable(std::min(lift.sets_load, load), std::min(lift.sets_load, load), equipment);
    return fmt::format("One triple at {:g} lb ({}, {:.0f} %), then {}; {}", load.value(),
                       plates_text(load, equipment), 100.0 * (load / lift.maximum),
                       sets_text(lift, sets, equipment), lift.rest);
  }
  // With much less on the bar than planned more repetitions are left than the plan says.
  const bool as_planned = load >= lift.sets_load * kFarBelowWanted;
  return fmt::format("{}{}{}; {}", lift.opening, sets_text(lift, load, equipment),
                     as_planned ? ", " + lift.reserve : "", lift.rest);
}

Draft write_lift(const Order& order) {
  const Situation& s = order.situation;
  const auto ability = ability_of(order);
  if (!ability) return find_the_load(order);
  const Equipment& equipment = s.candidate->equipment;
  const Pounds proven(ability->proven);
  const bool lighter = s.nth_this_week > 0 && !s.form_first;

  LiftDay day;
  day.scheme = scheme_of(s);
  day.slow_anyway = s.form_first;
  day.sets = sets_of(day.scheme, order);
  day.maximum = one_rep_max_from_three(Pounds(ability->expected));
  const double climb = climb_of(day.scheme, s);
  double share = day.scheme.low + climb * (day.scheme.high - day.scheme.low);
  if (lighter) share -= kLighterDay;
  const Pounds cap = load_cap(proven, day.scheme.repetitions, kInReserve);
  day.wanted = std::min(day.maximum * share, cap);
  if (day.wanted < Pounds(equipment.bar_lb)) {
    return under_the_bar(day.scheme, std::min(day.maximum, one_rep_max_from_three(proven)), order);
  }
  day.load = loadable(day.wanted, cap, equipment);
  if (s.top_triple && !lighter && !no_maximal_work(s)) {
    if (const auto draft = with_top_triple(day, proven, order)) return *draft;
  }

  Draft draft;
  draft.stop = kLiftStop;
  draft.load = day.load;
  draft.sets = day.sets;
  LiftFigures lift = figures_of(day);
  lift.opening = opening(s, lighter);
  lift.reserve = lighter || s.form_first ? "four left" : "two left";
  lift.rest = fmt::format("rest {}; {}", span_text(rest_seconds(day.scheme)), assist_text(order));
  draft.text = lift_text(lift, day.load, equipment);
  draft.lift = std::move(lift);
  return draft;
}

}  // namespace backplan

#include "prescription_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace backplan {
namespace {

constexpr double kQuarterMetres = 400.0;
constexpr Metres kTwoMiles{2.0 * kMetresPerMile};

}  // namespace

std::optional<Ability> ability_of(const Order& order) {
  const auto expected = order.situation.expected.find(order.work.trains);
  const auto proven = order.situation.proven.find(order.work.trains);
  if (expected == order.situation.expected.end() || proven == order.situation.proven.end())
    return std::nullopt;
  return Ability{expected->second, proven->second};
}

bool is_easy_phase(const Situation& situation) {
  return situation.phase == Phase::deload || situation.phase == Phase::taper;
}

int sets_in_phase(int sets, const Situation& situation) {
  return std::max(1, is_easy_phase(situation) ? (sets + 1) / 2 : sets);
}

bool is_new(const Situation& situation) {
  return situation.candidate->trains_as() == Background::new_to_training;
}

bool no_maximal_work(const Situation& situation) {
  return situation.form_first || situation.candidate->medical.status == MedicalStatus::postpartum;
}

int sets_that_fit(double minutes, double work_s, double rest_s) {
  const double sets = (minutes * kSecondsPerMinute + rest_s) / (work_s + rest_s);
  return std::max(1, static_cast<int>(std::floor(sets)));
}

std::string clock_text(Seconds time) {
  // The slack keeps a whole second whole.
  const int whole = static_cast<int>(std::ceil(time.value() - 1e-6));
  return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

std::string span_text(double seconds) {
  const int whole = static_cast<int>(std::lround(seconds));
  if (whole % 60 == 0) return fmt::format("{} min", whole / 60);
  if (whole > 120 && whole % 30 == 0) return fmt::format("{}.5 min", whole / 60);
  if (whole < 120) return fmt::format("{} s", whole);
  return clock_text(Seconds(whole)) + " min";
}

std::string event_name(const std::string& model_event, const Situation& situation) {
  const Event* event = situation.standard->first_of_model(model_event);
  return event != nullptr ? event->name : model_event;
}

Metres run_distance(const Order& order) {
  const Event* event = order.situation.standard->first_of_model(order.work.trains);
  return event != nullptr && event->distance ? *event->distance : kTwoMiles;
}

Metres run_cap(const Situation& situation) {
  return std::max(situation.longest_run * situation.run_growth, situation.run_floor);
}

PaceBand safe_pace(Band band, const Ability& ability, Metres distance) {
  const PaceBand now = band(aerobic_index(distance, Seconds(ability.expected)));
  const PaceBand proven = band(aerobic_index(distance, Seconds(ability.proven)));
  return {std::max(now.slow_mile, proven.slow_mile * kFastestOverProven),
          std::max(now.fast_mile, proven.fast_mile * kFastestOverProven)};
}

Seconds quarter_of(Seconds mile) { return mile * (kQuarterMetres / kMetresPerMile); }

double metres_per_second(Seconds mile) { return kMetresPerMile / mile.value(); }

std::string pace_text(const PaceBand& pace, const Situation& situation) {
  const auto range = [&pace](double share) {
    const std::string slow = clock_text(pace.slow_mile * share);
    const std::string fast = clock_text(pace.fast_mile * share);
    return slow == fast ? slow : slow + "-" + fast;
  };
  const std::string mile = range(1.0) + " a mile";
  const bool track = situation.candidate->equipment.track;
  return track ? fmt::format("{} per 400 m, {}", range(kQuarterMetres / kMetresPerMile), mile) : mile;
}

}  // namespace backplan

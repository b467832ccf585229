// Work that the data describes: parts of a distance by the clock (rows, swims, rides, marches), and
// things done a number of times with full rests (sprints, jumps, parts of a course).
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "prescription_parts.hpp"

namespace backplan {
namespace {

constexpr double kUnknownPieceSeconds = 150.0;  // of a piece by effort: between two and three minutes
constexpr int kFewestSteadyMinutes = 5;
constexpr double kWarmUpShare = 0.2;  // of the block, easy, before pieces and drills
constexpr double kStepMetres = 50.0;  // of printed distances
const std::string kDrillStop = "stop when it gets slower or worse than the first; pain ends it";

const std::string& stop_of(const Order& order) {
  return order.work.words.stop.empty() ? kDrillStop : order.work.words.stop;
}

// Metres a second in the event: what is expected now, but no more than 3 % over what was proven.
std::optional<double> event_speed(const Order& order) {
  const Event* event = order.situation.standard->first_of_model(order.work.trains);
  const auto ability = ability_of(order);
  if (event == nullptr || !event->distance || event->unit != Unit::second || !ability) return std::nullopt;
  const double seconds = std::max(ability->expected, kFastestOverProven * ability->proven);
  if (!(seconds > 0.0)) return std::nullopt;
  return event->distance->value() / seconds;
}

std::string distance_text(double metres) {
  return metres < 1000.0 ? fmt::format("{:.0f} m", metres) : fmt::format("{:g} km", metres / 1000.0);
}

int main_minutes(const Order& order) {
  return std::max(1, static_cast<int>(std::floor(order.minutes * (1.0 - kWarmUpShare))));
}

Draft steady(const std::optional<double>& speed, const Order& order) {
  const Situation& s = order.situation;
  const int whole = main_minutes(order);
  const int minutes = is_easy_phase(s) ? std::max(std::min(kFewestSteadyMinutes, whole), whole / 2) : whole;
  const std::string& verb = order.work.words.doing;
  Draft draft;
  draft.stop = stop_of(order);
  if (!speed) {
    draft.text =
        fmt::format("{} min {} at an even effort, 5 to 6 of 10: sentences still come easily", minutes, verb);
    return draft;
  }
  const double pace = order.work.pieces.steady * *speed;
  const double metres = std::floor(pace * minutes * kSecondsPerMinute / kStepMetres) * kStepMetres;
  const double unit = order.work.pieces.piece.value();
  draft.text = fmt::format("{} min {} at an even pace, about {} per {} ({:.0f} % of test pace): {} or so",
                           minutes, verb, clock_text(Seconds(unit / pace)), distance_text(unit),
                           100.0 * order.work.pieces.steady, distance_text(metres));
  return draft;
}

Draft pieces(const std::optional<double>& speed, const Order& order) {
  const PiecesShape& shape = order.work.pieces;
  const double pace = speed ? shape.faster * *speed : 0.0;
  const double each = speed ? shape.piece.value() / pace : kUnknownPieceSeconds;
  const int fit = sets_that_fit(main_minutes(order), each, shape.rest.value());
  const int count = sets_in_phase(std::min(shape.most, fit), order.situation);
  Draft draft;
  draft.stop = stop_of(order);
  draft.sets = count;
  const std::string& verb = order.work.words.doing;
  draft.text = speed ? fmt::format("{}×{} {} in {} each, rest {}; easy before and after", count,
                                   distance_text(shape.piece.value()), verb, clock_text(Seconds(each)),
                                   span_text(shape.rest.value()))
                     : fmt::format("{}× {} {} at effort 7 of 10, all alike, rest {}; easy before and after",
                                   count, span_text(each), verb, span_text(shape.rest.value()));
  return draft;
}

}  // namespace

Draft write_pieces(const Order& order) {
  const Situation& s = order.situation;
  const auto speed = event_speed(order);
  // Two pieces at least, or it is no work in pieces.
  const double piece_s = speed ? order.work.pieces.piece.value() / *speed : kUnknownPieceSeconds;
  const bool piece_fits = sets_that_fit(main_minutes(order), piece_s, order.work.pieces.rest.value()) > 1;
  // The week's first is in pieces; a beginner's first weeks, and what comes after, are steady.
  const bool by_pieces = s.nth_this_week == 0 && !no_maximal_work(s) && piece_fits;
  return by_pieces ? pieces(speed, order) : steady(speed, order);
}

Draft write_drill(const Order& order) {
  const Situation& s = order.situation;
  const DrillShape& shape = order.work.drill;
  const int fit = std::max(1, static_cast<int>(std::floor(main_minutes(order) / shape.minutes_each)));
  const int times = sets_in_phase(std::min(shape.most, fit), s);
  Draft draft;
  draft.stop = stop_of(order);
  draft.sets = times;
  draft.text = fmt::format("{}× {}; {}", times, order.work.words.doing,
                           no_maximal_work(s) ? "half effort, form first" : "effort 9 of 10, full rest");
  return draft;
}

}  // namespace backplan

// Kilograms for pounds and the other way round: a factor of 2.2, which training does not bring.
#include <algorithm>
#include <optional>

#include "backplan/evidence.hpp"

namespace backplan {
namespace {

// Within these shares of the best that is known a reading is taken as it stands; beyond them the other unit
// is tried, which must then fit within the narrower ones (judgement: no month of training brings half as
// much again, and the slip is a factor of 2.2).
constexpr double kMostGain = 1.5;
constexpr double kLeastShare = 0.6;
constexpr double kFitsUpTo = 1.25;
constexpr double kFitsFrom = 0.3;      // of work that was typed too heavy: light days are usual
constexpr double kBestFitsFrom = 0.8;  // of a best that was typed too light

bool is_mass(Unit unit) { return unit == Unit::pound || unit == Unit::kilogram; }

// "155 kg" as "155 lb"; a bare figure is in the event's own unit.
std::string in_other_unit(const std::string& typed, Unit own) {
  const std::size_t end = typed.find_first_not_of("0123456789.+");
  const std::string figure = typed.substr(0, end);
  const std::string unit = end == std::string::npos ? unit_name(own) : typed.substr(end);
  const bool kilograms = unit.find_first_of("kK") != std::string::npos;  // "kg", "Kg", "KG"
  return figure + (kilograms ? " lb" : " kg");
}

bool typed_in_kilograms(const std::string& typed, Unit own) {
  return in_other_unit(typed, own).find("lb") != std::string::npos;
}

// The text of the load or result that decides.
std::string deciding_text(const Done& done) {
  if (const auto* result = std::get_if<ResultDone>(&done.what)) return result->value.as_typed;
  const auto* work = std::get_if<WorkDone>(&done.what);
  if (work == nullptr) return {};
  const LoggedSet* heaviest = nullptr;
  for (const LoggedSet& set : work->sets) {
    if (set.load && (heaviest == nullptr || set.load->value > heaviest->load->value)) heaviest = &set;
  }
  return heaviest == nullptr ? std::string() : heaviest->load->as_typed;
}

double best_known(const std::string& event, const std::vector<Evidence>& history) {
  double best = 0.0;
  for (const Evidence& one : history) {
    if (one.event == event) best = std::max(best, result_of(one.v, Direction::more_is_better));
  }
  return best;
}

}  // namespace

std::optional<UnitDoubt> unit_doubt(const Done& done, const std::vector<Evidence>& history,
                                    const Standard& standard, const Model& model) {
  const auto reading = evidence_of(done, standard, model);
  if (!reading) return std::nullopt;
  const Event* event = standard.find_event(reading->event);
  if (event == nullptr || !is_mass(event->unit)) return std::nullopt;
  const double known = best_known(event->id, history);
  if (!(known > 0.0)) return std::nullopt;
  const std::string typed = deciding_text(done);
  const bool kilograms = typed_in_kilograms(typed, event->unit);
  const double result = result_of(reading->v, event->direction);
  const double other = kilograms ? result * kKilogramsPerPound : result / kKilogramsPerPound;
  const bool too_heavy =
      result > kMostGain * known && other <= kFitsUpTo * known && other >= kFitsFrom * known;
  const bool too_light = result < kLeastShare * known && other <= kFitsUpTo * known &&
                         other >= kBestFitsFrom * known && !reading->lower_bound;
  const bool slip = kilograms ? too_heavy : too_light;
  if (!slip) return std::nullopt;
  return UnitDoubt{typed, in_other_unit(typed, event->unit), event->id, result, known};
}

}  // namespace backplan

#include "report/names.hpp"

#include <fmt/format.h>

#include <cmath>

#include "backplan/printable.hpp"
#include "backplan/score.hpp"
#include "io/estimate_text.hpp"

namespace backplan::report {

std::string Names::event(const std::string& id) const {
  const Event* found = standard.find_event(id);
  return found == nullptr || found->name.empty() ? printable(id) : fmt::format("{} ({})", found->name, id);
}

std::string Names::work(const std::string& id) const {
  const WorkKind* found = model.find_work(id);
  return found == nullptr ? printable(id) : found->name;
}

Unit Names::unit(const std::string& event) const {
  const Event* found = standard.find_event(event);
  return found == nullptr ? Unit::repetition : found->unit;
}

std::string Names::estimate(const std::string& event, double result) const {
  const Event* found = standard.find_event(event);
  // What is measured in hundredths is told in them: coarser, it would not be the figure that the points
  // beside it are for.
  constexpr double kHundredths = 100.0, kHalfTenth = 0.05;
  if (found != nullptr && found->unit == Unit::second && found->resolution < 1.0)
    return format_result(std::floor(result / found->resolution + 0.5) * found->resolution, Unit::second);
  if (found != nullptr && found->unit == Unit::metre && found->resolution < kHalfTenth)
    return format_result(std::floor(result * kHundredths + 0.5) / kHundredths, Unit::metre);
  return io::estimate_text(result, unit(event));
}

std::string Names::category(const std::string& id) const {
  const Category* found = standard.find_category(id);
  return found == nullptr || found->name.empty() ? id : found->name;
}

bool Names::has_pass_mark(const std::string& id) const {
  const Category* found = standard.find_category(id);
  return standard.pass_or_fail || (found != nullptr && found->has_minimum());
}

std::size_t Names::place(const std::string& event) const {
  std::size_t place = 0;
  while (place < standard.events.size() && standard.events[place].id != event) ++place;
  return place;
}

}  // namespace backplan::report

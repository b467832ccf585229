#include "report/names.hpp"

#include <fmt/format.h>

#include "backplan/printable.hpp"
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
  return io::estimate_text(result, found == nullptr ? Event{} : *found);
}

std::string Names::category(const std::string& id) const {
  const Category* found = standard.find_category(id);
  return found == nullptr || found->name.empty() ? id : found->name;
}

bool Names::has_pass_mark(const std::string& id) const {
  const Category* found = standard.find_category(id);
  return standard.pass_or_fail || (found != nullptr && found->has_minimum());
}

const char* Names::minimum_words(const std::string& id) const {
  return has_pass_mark(id) ? "its minimum" : "on its scale";
}

std::size_t Names::place(const std::string& event) const {
  std::size_t place = 0;
  while (place < standard.events.size() && standard.events[place].id != event) ++place;
  return place;
}

}  // namespace backplan::report

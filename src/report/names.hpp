// The printed names of what a plan holds as ids.
#pragma once

#include <string>

#include "backplan/model.hpp"
#include "backplan/standard.hpp"

namespace backplan::report {

// The standard and the model that a plan was made by. The references must outlive the use.
struct Names {
  const Standard& standard;
  const Model& model;

  [[nodiscard]] std::string event(const std::string& id) const;  // "deadlift (MDL)"
  [[nodiscard]] std::string work(const std::string& id) const;   // "deadlift day"
  [[nodiscard]] Unit unit(const std::string& event) const;
  [[nodiscard]] std::string estimate(const std::string& event, double result) const;  // "15:32"
  [[nodiscard]] std::string category(const std::string& id) const;
  // Whether the standard says what it takes to pass in this category.
  [[nodiscard]] bool has_pass_mark(const std::string& category) const;
  // What the chance of an event's minimum is called: without one it is that of a result on the scale.
  [[nodiscard]] const char* minimum_words(const std::string& category) const;  // "its minimum"
  // Place of an event in the order of the test; unknown ones come last.
  [[nodiscard]] std::size_t place(const std::string& event) const;
};

}  // namespace backplan::report

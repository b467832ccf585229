// Reading files that the program has written itself: any figure will do, a missing key is a fault of the
// file.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/model.hpp"
#include "backplan/points.hpp"
#include "backplan/units.hpp"
#include "io/json_text.hpp"

namespace backplan::io {

inline constexpr double kAnyFigure = 1e12;        // figures are bounded only against nonsense
inline constexpr double kMostStoredPoints = 1e6;  // in tenths they must fit a Points

[[nodiscard]] double number_in(const JsonCursor& object, std::string_view key);
[[nodiscard]] int integer_in(const JsonCursor& object, std::string_view key);
[[nodiscard]] bool boolean_in(const JsonCursor& object, std::string_view key);
[[nodiscard]] std::string text_in(const JsonCursor& object, std::string_view key);
[[nodiscard]] std::string text_item(const JsonCursor& item);
[[nodiscard]] Date date_in(const JsonCursor& object, std::string_view key);
[[nodiscard]] Date date_item(const JsonCursor& value);
[[nodiscard]] Points to_points(double value);  // to the nearest tenth

[[nodiscard]] Assumption assumption_from(const JsonCursor& object);

// Empty where there is no such key.
[[nodiscard]] std::string optional_text_in(const JsonCursor& object, std::string_view key);
// A missing key and null both mean "not known".
[[nodiscard]] std::optional<double> optional_number_in(const JsonCursor& object, std::string_view key);
[[nodiscard]] std::optional<int> optional_integer_in(const JsonCursor& object, std::string_view key);
[[nodiscard]] std::optional<Points> optional_points_in(const JsonCursor& object, std::string_view key);

// One of the enumerators whose printed words are given by to_string.
template <class E, std::size_t N>
E word_in(const JsonCursor& object, std::string_view key, const std::array<E, N>& enumerators) {
  const JsonCursor value = object.required(key);
  const auto text = value.text();
  if (!text) return enumerators.front();
  for (const E one : enumerators) {
    if (to_string(one) == *text) return one;
  }
  value.fault("unknown word \"" + *text + "\"");
  return enumerators.front();
}

template <class T, class Read>
std::vector<T> list_in(const JsonCursor& object, std::string_view key, Read read) {
  std::vector<T> values;
  for (const JsonCursor& item : object.required(key).items()) values.push_back(read(item));
  return values;
}

// Calls `take` with each name and figure of an object that has one figure a name.
template <class Take>
void each_figure(const JsonCursor& object, double least, double most, Take take) {
  for (const auto& [name, value] : object.members()) {
    take(name, value.number(least, most).value_or(0.0));
  }
}

}  // namespace backplan::io

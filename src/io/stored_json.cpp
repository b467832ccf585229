#include "io/stored_json.hpp"

#include "io/value_text.hpp"

namespace backplan::io {
namespace {

constexpr int kMostInt = 1000000;
constexpr std::array kStatuses{Status::published, Status::common_practice, Status::memory, Status::derived,
                               Status::judgement};

}  // namespace

double number_in(const JsonCursor& object, std::string_view key) {
  return object.required(key).number(-kAnyFigure, kAnyFigure).value_or(0.0);
}

int integer_in(const JsonCursor& object, std::string_view key) {
  return object.required(key).integer(0, kMostInt).value_or(0);
}

std::string text_in(const JsonCursor& object, std::string_view key) {
  return object.required(key).text().value_or("");
}

std::string optional_text_in(const JsonCursor& object, std::string_view key) {
  return object.has(key) ? text_in(object, key) : std::string();
}

bool boolean_in(const JsonCursor& object, std::string_view key) {
  return object.required(key).boolean().value_or(false);
}

// A missing key and null both mean "not known".
std::optional<double> optional_number_in(const JsonCursor& object, std::string_view key) {
  const JsonCursor value = object.optional(key);
  if (!value.exists() || !value.is_number()) return std::nullopt;
  return value.number(-kAnyFigure, kAnyFigure);
}

std::optional<int> optional_integer_in(const JsonCursor& object, std::string_view key) {
  if (!optional_number_in(object, key)) return std::nullopt;
  return object.optional(key).integer(0, kMostInt);
}

Points to_points(double value) {
  constexpr double kTenths = 10.0;
  return Points::from_tenths(static_cast<std::int32_t>(value * kTenths + (value < 0 ? -0.5 : 0.5)));
}

std::optional<Points> optional_points_in(const JsonCursor& object, std::string_view key) {
  if (!optional_number_in(object, key)) return std::nullopt;
  const auto value = object.optional(key).number(-kMostStoredPoints, kMostStoredPoints);
  if (!value) return std::nullopt;
  return to_points(*value);
}

Date date_item(const JsonCursor& value) {
  const auto text = value.text();
  if (!text) return {};
  const auto reading = read_date(*text);
  if (!reading.value) value.fault(reading.problem, reading.hint);
  return reading.value.value_or(Date{});
}

Date date_in(const JsonCursor& object, std::string_view key) { return date_item(object.required(key)); }

std::string text_item(const JsonCursor& item) { return item.text().value_or(""); }

Assumption assumption_from(const JsonCursor& object) {
  return {text_in(object, "name"), text_in(object, "value"), text_in(object, "source"),
          word_in(object, "status", kStatuses)};
}

}  // namespace backplan::io

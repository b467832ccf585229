// Dates, results and other figures as people type them, to values and back. No locale, no silent
// guess: a value that fits only another unit is a question.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "backplan/standard.hpp"
#include "backplan/units.hpp"

namespace backplan::io {

// A value, or what is wrong and what to do.
template <class T>
struct Reading {
  std::optional<T> value;
  std::string problem;
  std::string hint;
};

// Exactly YYYY-MM-DD and a real day between 1900 and 2200.
[[nodiscard]] Reading<Date> read_date(std::string_view text);
[[nodiscard]] std::string write_date(Date date);
// "Mon 8 Mar 2027".
[[nodiscard]] std::string say_date(Date date);

// A plain decimal number: digits, one point, an optional sign; no exponent, comma, NaN or spaces.
[[nodiscard]] std::optional<double> read_decimal(std::string_view text);

// A result in the event's unit: "170 lb", "77 kg", "15:32", "1:02:30", "41", "8.4 m", "41 reps". A bare
// number is in the event's unit (for times: whole seconds are a question, "15.32" too). Out of the
// event's plausible range: a problem that names the range and, where it fits, the other unit.
[[nodiscard]] Reading<double> read_result(std::string_view text, const Event& event);
// A bare number, as a JSON file may hold it.
[[nodiscard]] Reading<double> read_result(double figure, const Event& event);

// "6 mi", "10 km", "400 m", "2mi". A bare number is a question.
[[nodiscard]] Reading<Metres> read_distance(std::string_view text);

}  // namespace backplan::io

// Physical quantities that the compiler keeps apart, and calendar dates.
//
// A pound cannot be added to a metre, and nothing converts silently: conversions are named
// functions with exact factors (international yard and pound agreement of 1959).
#pragma once

#include <array>
#include <chrono>
#include <compare>
#include <string>
#include <string_view>

namespace backplan {

// A double with a unit. Same-unit sums and differences, scaling by a number and same-unit ratios
// are all the arithmetic there is.
template <class Tag>
class Quantity {
 public:
  constexpr Quantity() = default;
  explicit constexpr Quantity(double value) : value_(value) {}
  [[nodiscard]] constexpr double value() const { return value_; }

  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.value_ + b.value_); }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.value_ - b.value_); }
  friend constexpr Quantity operator*(Quantity a, double s) { return Quantity(a.value_ * s); }
  friend constexpr Quantity operator*(double s, Quantity a) { return Quantity(a.value_ * s); }
  friend constexpr Quantity operator/(Quantity a, double s) { return Quantity(a.value_ / s); }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }
  friend constexpr auto operator<=>(Quantity a, Quantity b) = default;

 private:
  double value_ = 0.0;
};

using Pounds = Quantity<struct PoundTag>;
using Kilograms = Quantity<struct KilogramTag>;
using Seconds = Quantity<struct SecondTag>;
using Metres = Quantity<struct MetreTag>;
using Miles = Quantity<struct MileTag>;

inline constexpr double kKilogramsPerPound = 0.45359237;  // exact, agreement of 1959
inline constexpr double kMetresPerYard = 0.9144;          // exact, agreement of 1959
inline constexpr double kMetresPerMile = 1609.344;        // exact, agreement of 1959
inline constexpr double kMetresPerFoot = 0.3048;          // exact, agreement of 1959

[[nodiscard]] constexpr Pounds to_pounds(Kilograms m) { return Pounds(m.value() / kKilogramsPerPound); }
[[nodiscard]] constexpr Kilograms to_kilograms(Pounds m) { return Kilograms(m.value() * kKilogramsPerPound); }
[[nodiscard]] constexpr Metres to_metres(Miles d) { return Metres(d.value() * kMetresPerMile); }
[[nodiscard]] constexpr Miles to_miles(Metres d) { return Miles(d.value() / kMetresPerMile); }

// The unit in which an event is measured and its scale is printed.
enum class Unit { pound, kilogram, repetition, second, metre, centimetre, kilometre, go };

// "lb", "kg", "reps", "mm:ss", "m", "cm", "km", "go".
[[nodiscard]] std::string unit_name(Unit unit);

// A calendar day. There is no time of day and no time zone anywhere below the command line.
using Date = std::chrono::sys_days;
using Days = std::chrono::days;
using Weekday = std::chrono::weekday;

inline constexpr int kDaysAWeek = 7;
// From Monday on: in files, and for people.
inline constexpr std::array<std::string_view, kDaysAWeek> kDayKeys{"mon", "tue", "wed", "thu",
                                                                   "fri", "sat", "sun"};
inline constexpr std::array<std::string_view, kDaysAWeek> kDayNames{"Mon", "Tue", "Wed", "Thu",
                                                                    "Fri", "Sat", "Sun"};
inline constexpr double kSecondsPerMinute = 60.0;
inline constexpr double kMinutesPerHour = 60.0;

// Monday = 0 .. Sunday = 6: the index of the `week` object in a candidate file.
[[nodiscard]] int weekday_index(Date date);
[[nodiscard]] std::string say_day(Date date);               // "8 Mar 2027"
[[nodiscard]] std::string date_words(Date date);            // "Tue 12 Jan"
[[nodiscard]] std::string date_words_with_year(Date date);  // "Tue 12 Jan 2027"

}  // namespace backplan

#include "io/watch_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "io/characters.hpp"

namespace backplan::io {
namespace {

constexpr double kMeanEarthRadius = 6371008.8;  // metres; IUGG mean radius of WGS 84
constexpr double kMostWay = 400'000.0;          // metres; nobody has run as far in a day
constexpr double kSecondsInMinute = 60.0;
constexpr double kSecondsInHour = 3600.0;
constexpr double kSecondsInDay = 86400.0;
constexpr double kMostRounding = 2.0;  // seconds by which two clocks of one file may differ

std::string_view without_space(std::string_view text) {
  constexpr std::string_view kSpace = " \t\r\n";
  const std::size_t first = text.find_first_not_of(kSpace);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kSpace) - first + 1);
}

// Two digits from 0 to `most` at the front, taken off.
std::optional<int> take_two(std::string_view& text, int most) {
  if (text.size() < 2 || !is_digit(text[0]) || !is_digit(text[1])) return std::nullopt;
  const int value = 10 * (text[0] - '0') + (text[1] - '0');
  text.remove_prefix(2);
  return value <= most ? std::optional<int>(value) : std::nullopt;
}

bool take(std::string_view& text, char c) {
  if (text.empty() || text.front() != c) return false;
  text.remove_prefix(1);
  return true;
}

// "hh:mm:ss" with a fraction, taken off; seconds of the day.
std::optional<double> take_clock(std::string_view& text) {
  const auto hours = take_two(text, 23);
  if (!hours || !take(text, ':')) return std::nullopt;
  const auto minutes = take_two(text, 59);
  if (!minutes || !take(text, ':')) return std::nullopt;
  const auto seconds = take_two(text, 60);  // 60: a leap second
  if (!seconds) return std::nullopt;
  double of_day = *hours * kSecondsInHour + *minutes * kSecondsInMinute + *seconds;
  if (!take(text, '.')) return of_day;
  double digit = 0.1;
  if (text.empty() || !is_digit(text.front())) return std::nullopt;
  while (!text.empty() && is_digit(text.front())) {
    of_day += digit * (text.front() - '0');
    digit /= 10.0;
    text.remove_prefix(1);
  }
  return of_day;
}

// "+02:00", "-0530" in seconds; the whole text.
std::optional<int> read_offset(std::string_view text) {
  const bool west = !text.empty() && text.front() == '-';
  if (!take(text, '-') && !take(text, '+')) return std::nullopt;
  const auto hours = take_two(text, 14);
  take(text, ':');
  const auto minutes = take_two(text, 59);
  if (!hours || !minutes || !text.empty()) return std::nullopt;
  const int offset = *hours * 3600 + *minutes * 60;
  return west ? -offset : offset;
}

double radians(double degrees) { return degrees * std::numbers::pi / 180.0; }

// The great circle between two points of a sphere (haversine formula: Sinnott, Sky & Telescope 68, 1984). It
// is rounded to a metre before anybody sees it, so that the last bits of the C library's sine do not matter.
Metres great_circle(GeoPoint a, GeoPoint b) {
  const double up = std::sin(radians(b.latitude - a.latitude) / 2.0);
  const double along = std::sin(radians(b.longitude - a.longitude) / 2.0);
  const double half_chord =
      up * up + std::cos(radians(a.latitude)) * std::cos(radians(b.latitude)) * along * along;
  return Metres(2.0 * kMeanEarthRadius * std::asin(std::sqrt(std::min(1.0, half_chord))));
}

}  // namespace

Diagnostic watch_fault(const std::string& file, std::string message, std::string hint) {
  return {Severity::error, file, 0, 0, {}, std::move(message), std::move(hint)};
}

Reading<Moment> read_moment(std::string_view text) {
  text = without_space(text);
  const auto refused = [&text](std::string hint) {
    constexpr std::size_t kMostQuoted = 40;
    return Reading<Moment>{std::nullopt,
                           fmt::format("\"{}\" is no moment in time", text.substr(0, kMostQuoted)),
                           std::move(hint)};
  };
  const std::string form = "expected a form such as 2026-11-28T06:00:00Z; export the file again";
  constexpr std::size_t kDateLength = 10;
  const auto date = read_date(text.substr(0, kDateLength));
  if (!date.value) return refused(form);
  std::string_view rest = text.substr(kDateLength);
  if (!take(rest, 'T')) return refused(form);
  const auto clock = take_clock(rest);
  if (!clock) return refused(form);
  Moment moment;
  moment.utc = static_cast<double>(date.value->time_since_epoch().count()) * kSecondsInDay + *clock;
  if (rest.empty() || rest == "Z") return {moment, {}, {}};
  moment.utc_offset_s = read_offset(rest);
  if (!moment.utc_offset_s) return refused(form);
  moment.utc -= *moment.utc_offset_s;
  return {moment, {}, {}};
}

std::optional<double> read_xml_number(std::string_view text) {
  constexpr std::size_t kMostLength = 40;
  constexpr int kMostExponent = 20;
  text = without_space(text);
  if (text.size() > kMostLength) return std::nullopt;
  const std::size_t e = text.find_first_of("eE");
  auto number = read_decimal(text.substr(0, e));
  if (!number || e == std::string_view::npos) return number;
  const auto exponent = read_decimal(text.substr(e + 1));
  if (!exponent || std::floor(*exponent) != *exponent || std::fabs(*exponent) > kMostExponent)
    return std::nullopt;
  for (int i = 0; i < static_cast<int>(std::fabs(*exponent)); ++i) {
    *number = *exponent < 0.0 ? *number / 10.0 : *number * 10.0;
  }
  return number;
}

bool is_on_earth(GeoPoint point) {
  return std::fabs(point.latitude) <= 90.0 && std::fabs(point.longitude) <= 180.0;
}

void WayBetween::add(GeoPoint point) {
  if (last_) {
    total_ = total_ + great_circle(*last_, point);
    any_ = true;
  }
  last_ = point;
}

std::optional<Metres> WayBetween::total() const { return any_ ? std::optional(total_) : std::nullopt; }

void name_sport(WatchRun& run, std::string_view sport) {
  constexpr std::size_t kMostLength = 30;
  constexpr std::array<std::string_view, 12> kNotOnFoot{"cycl",  "bik",  "swim",  "row",  "ski",  "sail",
                                                        "drive", "skat", "kayak", "surf", "ride", "paddl"};
  for (const char c : without_space(sport).substr(0, kMostLength)) {
    const bool plain = c >= ' ' && c <= '~';  // it is printed
    run.sport += !plain ? '?' : c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  run.on_foot = std::none_of(kNotOnFoot.begin(), kNotOnFoot.end(), [&run](std::string_view word) {
    return run.sport.find(word) != std::string::npos;
  });
}

Diagnostics faults_of(const WatchRun& run, const std::string& file) {
  constexpr std::int64_t kEarliest = 631152000;  // 1 January 1990: no watch recorded a run before it
  constexpr std::int64_t kLatest = 7258118400;   // 1 January 2200
  Diagnostics faults;
  const auto fault = [&](std::string message, const char* hint) {
    faults.push_back(watch_fault(file, std::move(message), hint));
  };
  constexpr const char* kAgain = "the clock of the watch may have been wrong; log the run by hand";
  if (run.start < kEarliest || run.start >= kLatest) {
    fault(fmt::format("it begins on {}, which is no day of a run", say_date(day_of(run))), kAgain);
  }
  if (!(run.elapsed.value() >= 1.0 && run.elapsed.value() <= kSecondsInDay)) {
    fault(fmt::format("it lasts {:.0f} seconds; expected 1 to {:.0f}", run.elapsed.value(), kSecondsInDay),
          kAgain);
  }
  if (run.moving.value() < 0.0 || run.moving > run.elapsed + Seconds(kMostRounding)) {
    fault(fmt::format("the time without pauses, {:.0f} s, is longer than the time with them, {:.0f} s",
                      run.moving.value(), run.elapsed.value()),
          kAgain);
  }
  if (run.distance && !(run.distance->value() >= 0.0 && run.distance->value() <= kMostWay)) {
    fault(fmt::format("its distance of {:.0f} m is not possible; expected 0 to {:.0f} m",
                      run.distance->value(), kMostWay),
          "the recording is damaged; log the run by hand");
  }
  return faults;
}

}  // namespace backplan::io

// Single cells of a scale, from text and back.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "backplan/score.hpp"
#include "io/cells.hpp"

namespace backplan::io {
namespace {

constexpr double kWholeSlack = 1e-6;  // a decimal that is meant as whole steps, see core/standard.cpp

bool all_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return '0' <= c && c <= '9'; });
}

// Minutes and seconds, or hours too; every part but the first has two digits, seconds may have decimals.
std::optional<double> read_time(std::string_view text) {
  constexpr std::size_t kMostDigits = 4;
  double seconds = 0.0;
  int parts = 0;
  while (true) {
    const std::size_t colon = text.find(':');
    const std::string_view part = text.substr(0, colon);
    const std::string_view whole = part.substr(0, part.find('.'));
    const bool last = colon == std::string_view::npos;
    if (!all_digits(whole) || whole.size() > kMostDigits || (!last && whole.size() != part.size())) return {};
    if (parts > 0 && (whole.size() != 2 || whole[0] > '5')) return {};
    const std::optional<double> value = read_decimal(part);
    if (!value) return {};
    seconds = seconds * 60.0 + *value;
    ++parts;
    if (last) break;
    text.remove_prefix(colon + 1);
  }
  if (parts < 2 || parts > 3) return {};
  return seconds;
}

// Cuts the event's own unit off the end of a cell.
std::string_view without_unit(std::string_view text, Unit unit) {
  const auto cut = [&](std::string_view suffix) {
    if (text.size() <= suffix.size() || text.substr(text.size() - suffix.size()) != suffix) return false;
    text.remove_suffix(suffix.size());
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return true;
  };
  if (unit == Unit::pound && cut("lbs")) return text;
  if (unit != Unit::second) cut(unit_name(unit));
  return text;
}

}  // namespace

bool is_no_row(std::string_view text) {
  // En and em dash, figure dash, horizontal bar and minus sign in UTF-8.
  constexpr std::array<std::string_view, 5> kDashes{"\xE2\x80\x93", "\xE2\x80\x94", "\xE2\x80\x92",
                                                    "\xE2\x80\x95", "\xE2\x88\x92"};
  while (!text.empty()) {
    const auto dash = std::find_if(kDashes.begin(), kDashes.end(), [&](std::string_view each) {
      return text.substr(0, each.size()) == each;
    });
    if (dash == kDashes.end() && text.front() != '-') return false;
    text.remove_prefix(dash == kDashes.end() ? 1 : dash->size());
  }
  return true;
}

std::optional<Points> read_points(std::string_view text) {
  constexpr double kMostPoints = 1e6;
  const std::optional<double> value = read_decimal(text);
  if (!value || std::fabs(*value) > kMostPoints) return std::nullopt;
  const double tenths = std::floor(*value * 10.0 + 0.5);
  if (std::fabs(*value * 10.0 - tenths) > kWholeSlack) return std::nullopt;
  return Points::from_tenths(static_cast<std::int32_t>(tenths));
}

Reading<double> read_cell_result(std::string_view text, const Event& event) {
  const bool is_time = event.unit == Unit::second;
  const std::optional<double> value =
      is_time ? read_time(text) : read_decimal(without_unit(text, event.unit));
  if (!value) {
    return {
        std::nullopt, fmt::format("\"{}\" is no result in {}", text, unit_name(event.unit)),
        is_time ? "write times as 15:32" : fmt::format("write a plain number of {}", unit_name(event.unit))};
  }
  if (*value < event.least_plausible || *value > event.most_plausible) {
    return {
        std::nullopt,
        fmt::format("{} is outside what {} can be, {} to {}", text, event.id,
                    format_result(event.least_plausible, event), format_result(event.most_plausible, event)),
        "check the cell, and that the table is of this event and in its unit"};
  }
  const double steps = *value / event.resolution;
  if (std::fabs(steps - std::floor(steps + 0.5)) > kWholeSlack) {
    return {std::nullopt,
            fmt::format("{} is no whole step of {}", text, format_result(event.resolution, event)),
            fmt::format("{} is measured in steps of {}", event.id, format_result(event.resolution, event))};
  }
  return {round_harder(*value, event.resolution, event.direction), {}, {}};
}

std::string write_cell_result(double result, const Event& event) {
  std::string text = format_result(result, event);
  text.erase(std::min(text.find(' '), text.size()));
  // Also seconds alone have a colon: without it a cell is no time.
  constexpr double kTwoDigits = 10.0;
  if (event.unit == Unit::second && text.find(':') == std::string::npos)
    text.insert(0, result < kTwoDigits ? "0:0" : "0:");
  return text;
}

}  // namespace backplan::io

// Small pieces that every JSON writer uses: rounded numbers, dates, points. Keys keep the order in
// which they are written, so that the same values give the same bytes.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "backplan/points.hpp"
#include "backplan/units.hpp"

namespace backplan::io {

using Json = nlohmann::ordered_json;

// Decimals to which figures are rounded, once, on their way out.
inline constexpr int kResultDecimals = 2;  // in the event's unit: a hundredth of a second or pound
inline constexpr int kPointDecimals = 2;   // of expected points and totals
inline constexpr int kChanceDecimals = 4;
inline constexpr int kYieldDecimals = 3;       // points an hour
inline constexpr int kOptimalityDecimals = 4;  // the gap is a few hundredths

// A whole number when it is one after rounding. NaN and infinities are bugs: std::logic_error.
[[nodiscard]] Json rounded(double value, int decimals);
[[nodiscard]] Json points_json(const std::optional<Points>& points);  // null if there are none
[[nodiscard]] Json date_json(Date date);
// The unit in which a number stands: "s" for times, which people read as mm:ss; else unit_name.
[[nodiscard]] Json unit_json(Unit unit);

// The text with a line end, as a file or a line of output. Bytes that are not UTF-8 are replaced,
// control characters are escaped.
[[nodiscard]] std::string pretty(const Json& json);
[[nodiscard]] std::string one_line(const Json& json);

// Each value as `write` writes it.
template <class T, class Write>
Json list_json(const std::vector<T>& values, Write write) {
  Json json = Json::array();
  for (const T& value : values) json.push_back(write(value));
  return json;
}

}  // namespace backplan::io

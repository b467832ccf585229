#include "io/json_write.hpp"

#include <array>
#include <cmath>
#include <cstdint>
#include <stdexcept>

#include "io/value_text.hpp"

namespace backplan::io {
namespace {

constexpr std::array<double, 7> kPowersOfTen{1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};
constexpr double kLargestWhole = 9007199254740992.0;  // 2^53: doubles below it hold every whole number

}  // namespace

Json rounded(double value, int decimals) {
  if (!std::isfinite(value)) throw std::logic_error("a figure of the output is not a finite number");
  const double scale = kPowersOfTen.at(static_cast<std::size_t>(decimals));
  const double steps = std::floor(std::fabs(value) * scale + 0.5);
  const double result = std::copysign(steps / scale, value);
  if (result == std::floor(result) && std::fabs(result) < kLargestWhole) {
    return static_cast<std::int64_t>(result);
  }
  return result;
}

Json points_json(const std::optional<Points>& points) {
  if (!points) return nullptr;
  return rounded(points->value(), 1);
}

Json date_json(Date date) { return write_date(date); }

Json unit_json(Unit unit) { return unit == Unit::second ? "s" : unit_name(unit); }

std::string pretty(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

std::string one_line(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace backplan::io

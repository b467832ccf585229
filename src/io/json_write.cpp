#include "io/json_write.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <stdexcept>

#include "io/value_text.hpp"

namespace backplan::io {
namespace {

constexpr std::array<double, 7> kPowersOfTen{1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};
constexpr double kLargestWhole = 9007199254740992.0;  // 2^53: doubles below it hold every whole number

// U+007F to U+009F, which terminals obey and JSON lets stand, as escapes. They stand in texts only, where an
// escape means the same.
std::string with_escapes(const std::string& text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0U;
    if (byte == 0x7FU) {
      out += "\\u007f";
    } else if (byte == 0xC2U && next >= 0x80U && next <= 0x9FU) {
      out += fmt::format("\\u00{:02x}", next);
      ++i;
    } else {
      out += text[i];
    }
  }
  return out;
}

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
  return with_escapes(json.dump(2, ' ', false, Json::error_handler_t::replace)) + '\n';
}

std::string one_line(const Json& json) {
  return with_escapes(json.dump(-1, ' ', false, Json::error_handler_t::replace)) + '\n';
}

}  // namespace backplan::io

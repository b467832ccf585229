// Points of an official scale as fixed-point numbers.
//
// Army points are whole, other standards know half points and tenths; sums of them must be exact,
// so points are never doubles until they enter an expectation.
#pragma once

#include <compare>
#include <cstdint>
#include <string>

namespace backplan {

class Points {
 public:
  constexpr Points() = default;
  [[nodiscard]] static constexpr Points from_tenths(std::int32_t tenths) { return Points(tenths); }
  [[nodiscard]] static constexpr Points whole(std::int32_t points) { return Points(points * 10); }
  [[nodiscard]] constexpr std::int32_t tenths() const { return tenths_; }
  [[nodiscard]] constexpr double value() const { return tenths_ / 10.0; }

  friend constexpr Points operator+(Points a, Points b) { return Points(a.tenths_ + b.tenths_); }
  friend constexpr Points operator-(Points a, Points b) { return Points(a.tenths_ - b.tenths_); }
  friend constexpr auto operator<=>(Points a, Points b) = default;

 private:
  explicit constexpr Points(std::int32_t tenths) : tenths_(tenths) {}
  std::int32_t tenths_ = 0;
};

// "72" or "72.5".
[[nodiscard]] std::string to_string(Points points);

}  // namespace backplan

#include "backplan/running.hpp"

#include <cmath>

#include "backplan/numeric.hpp"
#include "backplan/units.hpp"

namespace backplan {
namespace {

// Daniels & Gilbert 1979: oxygen cost (ml/kg/min) = -4.60 + 0.182258 v + 0.000104 v^2, v in m/min.
constexpr double kCostConstant = -4.60;
constexpr double kCostLinear = 0.182258;
constexpr double kCostSquare = 0.000104;

// Share of the maximum that can be held for t minutes:
// 0.8 + 0.1894393 e^(-0.012778 t) + 0.2989558 e^(-0.1932605 t).
constexpr double kShareFloor = 0.8;
constexpr double kShareSlow = 0.1894393;
constexpr double kShareSlowRate = -0.012778;
constexpr double kShareFast = 0.2989558;
constexpr double kShareFastRate = -0.1932605;

// Speeds between which the inverse is looked for, in metres a minute: slower than any walk and
// faster than any sprint. Inside, cost over share falls strictly with time.
constexpr double kSlowestSpeed = 30.0;
constexpr double kFastestSpeed = 1000.0;
// Each step halves the bracket; 64 of them exhaust a double.
constexpr int kBisections = 64;

PaceBand pace_band(double index, double slow_share, double fast_share) {
  const auto mile = [index](double share) {
    return Seconds(kSecondsPerMinute * kMetresPerMile / speed_at_share(index, share));
  };
  return {mile(slow_share), mile(fast_share)};
}

}  // namespace

Seconds equivalent_time(Seconds time, Metres from, Metres to, double exponent) {
  return time * numeric::pow(to / from, exponent);
}

double oxygen_cost(double metres_per_minute) {
  return kCostConstant + metres_per_minute * (kCostLinear + kCostSquare * metres_per_minute);
}

double sustainable_share(double minutes) {
  return kShareFloor + kShareSlow * numeric::exp(kShareSlowRate * minutes) +
         kShareFast * numeric::exp(kShareFastRate * minutes);
}

double aerobic_index(Metres distance, Seconds time) {
  const double minutes = time.value() / kSecondsPerMinute;
  return oxygen_cost(distance.value() / minutes) / sustainable_share(minutes);
}

Seconds time_for_index(double index, Metres distance) {
  double fast = distance.value() / kFastestSpeed * kSecondsPerMinute;
  double slow = distance.value() / kSlowestSpeed * kSecondsPerMinute;
  for (int i = 0; i < kBisections; ++i) {
    const double middle = 0.5 * (fast + slow);
    // A time whose index is above the asked one is too fast.
    (aerobic_index(distance, Seconds(middle)) > index ? fast : slow) = middle;
  }
  return Seconds(0.5 * (fast + slow));
}

double speed_at_share(double index, double share) {
  // The positive root of the cost equation.
  const double rest = share * index - kCostConstant;
  const double root = std::sqrt(kCostLinear * kCostLinear + 4.0 * kCostSquare * rest);
  return 2.0 * rest / (kCostLinear + root);
}

PaceBand easy_pace(double index) { return pace_band(index, 0.65, 0.75); }
PaceBand threshold_pace(double index) { return pace_band(index, 0.83, 0.88); }
PaceBand interval_pace(double index) { return pace_band(index, 0.98, 1.00); }

}  // namespace backplan

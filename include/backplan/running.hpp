// Running arithmetic: equal efforts over other distances, the oxygen-cost equations, training paces.
// docs/mathematics.md, "Running".
#pragma once

#include "backplan/units.hpp"

namespace backplan {

// Riegel 1981: T2 = T1 (D2 / D1)^exponent; the published exponent is 1.06.
[[nodiscard]] Seconds equivalent_time(Seconds time, Metres from, Metres to, double exponent = 1.06);

// Daniels & Gilbert 1979, v in m/min, t in min: oxygen cost of a speed, share of the maximum that
// can be held for a time, and the aerobic index of a performance (their quotient, ml/kg/min).
[[nodiscard]] double oxygen_cost(double metres_per_minute);
[[nodiscard]] double sustainable_share(double minutes);
[[nodiscard]] double aerobic_index(Metres distance, Seconds time);
// Inverse: the time that this index gives over the distance. Within 1e-6 s.
[[nodiscard]] Seconds time_for_index(double index, Metres distance);
// Speed whose oxygen cost is this share of the index, in metres a minute.
[[nodiscard]] double speed_at_share(double index, double share);

// Pace bands as shares of the index (textbook convention, from memory): easy 0.65-0.75,
// threshold 0.83-0.88, interval 0.98-1.00.
struct PaceBand {
  Seconds slow_mile;
  Seconds fast_mile;
};
[[nodiscard]] PaceBand easy_pace(double index);
[[nodiscard]] PaceBand threshold_pace(double index);
[[nodiscard]] PaceBand interval_pace(double index);

}  // namespace backplan

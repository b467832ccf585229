// The fit of one event's growth: with the rate k fixed the model is linear, so least squares by QR gives all
// else and k is searched alone (variable projection). Lower bounds enter as one-sided updates.
// docs/mathematics.md, "The fit from the journal".
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

#include "core/linear_algebra.hpp"

namespace backplan {

// The lowest point of `f` between `low` and `high`: the best of `steps` + 1 equal steps, then Brent's method
// around it until the interval is shorter than `width`.
[[nodiscard]] double search_minimum(const std::function<double(double)>& f, double low, double high,
                                    int steps, double width);

// The share of the headroom that s brings: 1 - exp(-k s).
[[nodiscard]] double growth_share(double k, double s);

// One reading, or one limit on a parameter.
struct GrowthRow {
  double y = 0.0;         // v with what was lost by then added
  double s = 0.0;         // S reached by then
  double variance = 0.0;  // of its own; 0 only for a bound
  double stray = 0.0;     // variance by which the level may have strayed since
  bool bound = false;     // the value was at least y
  bool headroom = false;  // a row of h alone, not of the ability
  // Multiples of what the person's readings have in common (see GrowthTask).
  double setting = 0.0, conversion = 0.0, exponent = 0.0;
};

// Shared columns have standard normal priors.
struct GrowthTask {
  std::vector<GrowthRow> rows;
  double h = 0.0, h_sd = 1.0;
  std::optional<double> v0;  // prior of the level, where nothing but bounds tells it
  double v0_sd = 1.0;
  double log_k = 0.0, log_k_sd = 0.35;
};

inline constexpr int kLevel = 0, kHeadroom = 1, kSetting = 2, kConversion = 3, kExponent = 4;
inline constexpr int kGrowthColumns = 5;

// The fit with one k.
struct GrowthNode {
  double k = 0.0;
  double weight = 0.0;
  LinearFit fit;  // kGrowthColumns
};

struct GrowthFit {
  double log_k = 0.0;     // mode
  double log_k_sd = 0.0;  // from the curvature there
  std::vector<GrowthNode> nodes;
  // By row, at the mode.
  std::vector<double> expected;  // by everything else, as y
  std::vector<double> off;       // standard deviations from it; 0 for a bound that holds
  std::vector<bool> flagged;     // too far off: down-weighted
  std::vector<double> pull;      // share of the information on the level today that comes from the row
  double s_now = 0.0;
};

// `s_now`: S today, for `pull`. Does not depend on the order of rows beyond rounding.
[[nodiscard]] GrowthFit fit_growth(const GrowthTask& task, double s_now);

// The fit with k fixed and bounds settled. Only tests ask for it: what bounds do to a level is held against
// numbers from outside there, without the search for k.
[[nodiscard]] LinearFit fit_growth_at(const GrowthTask& task, double k);

}  // namespace backplan

// A lower bound as a one-sided update of a normal variable. docs/mathematics.md, "Bounds".
#pragma once

namespace backplan {

inline constexpr double kLeastPrecision = 0.1;  // of a bound that says nothing: a spread of 3 in v
inline constexpr double kLeastVariance = 1e-14;
inline constexpr double kSettledSite = 1e-9;    // relative change of a site,
inline constexpr double kNearlySettled = 1e-7;  // and while the rate is still looked for
// Sites change together and could overshoot: they go this share of the way, less once they do overshoot.
inline constexpr double kSiteStep = 0.8, kOvershot = 0.6;
inline constexpr int kMostSiteRounds = 200;

// phi(z) / Phi(z) for every z.
[[nodiscard]] double inverse_mills(double z);

// The reading (value, precision) that changes a normal variable as the bound does.
struct OneSidedSite {
  double precision = 0.0;
  double mean = 0.0;
};

// For x ~ N(mean, variance) and the knowledge that x + N(0, noise) is at least `bound`: the reading that
// gives x the mean and variance of the exact, cut distribution.
[[nodiscard]] OneSidedSite site_of(double mean, double variance, double bound, double noise);

// Takes `site` the share `step` of the way to `next`; returns how far it still is, relative to its precision
// or spread.
double approach(OneSidedSite& site, const OneSidedSite& next, double step);

}  // namespace backplan

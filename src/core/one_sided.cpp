#include "core/one_sided.hpp"

#include <algorithm>
#include <cmath>

#include "backplan/numeric.hpp"

namespace backplan {
namespace {

constexpr double kTail = -4.0;      // below this the distribution function has lost digits
constexpr int kFractionTerms = 60;  // of the continued fraction: rounding is reached before

}  // namespace

// In the tail the continued fraction of Laplace: phi(x) / Phi(-x) = x + 1/(x + 2/(x + 3/(x + ...))).
double inverse_mills(double z) {
  if (z > kTail) return numeric::normal_pdf(z) / numeric::normal_cdf(z);
  const double x = -z;
  double fraction = x;
  for (int i = kFractionTerms; i > 0; --i) fraction = x + i / fraction;
  return fraction;
}

// Moments of the cut distribution: with t^2 = variance + noise, z = (mean - bound) / t, r = phi/Phi(z),
//   mean' = mean + variance r / t,   variance' = variance - variance^2 r (z + r) / t^2.
// A reading of value m and precision p gives variance' = 1 / (1/variance + p) and
//   mean' = mean + variance (m - mean) / (variance + 1/p).
OneSidedSite site_of(double mean, double variance, double bound, double noise) {
  const double t = std::sqrt(variance + noise);
  const double z = (mean - bound) / t;
  const double r = inverse_mills(z);
  const double w = std::clamp(r * (z + r), 0.0, 1.0) / (t * t);
  OneSidedSite site;
  site.precision = std::max(kLeastPrecision, w / std::max(1.0 - variance * w, 1e-9));
  site.mean = mean + r / t * (variance + 1.0 / site.precision);
  return site;
}

double approach(OneSidedSite& site, const OneSidedSite& next, double step) {
  const double by_precision = std::fabs(next.precision - site.precision) / next.precision;
  const double by_mean = std::fabs(next.mean - site.mean) * std::sqrt(next.precision);
  // In natural parameters, in which readings add up.
  const double precision = site.precision + step * (next.precision - site.precision);
  const double product =
      site.precision * site.mean + step * (next.precision * next.mean - site.precision * site.mean);
  site = {precision, product / precision};
  return std::max(by_precision, by_mean);
}

}  // namespace backplan

// Elementary functions made of basic arithmetic only, so that every machine and compiler gives the
// same bits (the C library's exp and log differ by an ulp between processors). See
// docs/mathematics.md, "Same bytes everywhere".
#pragma once

namespace backplan::numeric {

// Relative error below 3e-16; arguments outside about ±708 saturate to 0 or the largest double.
[[nodiscard]] double exp(double x);

// Natural logarithm of x > 0; relative error below 4e-16 away from 1, absolute below 1e-16 near it.
[[nodiscard]] double log(double x);

// base^exponent for base > 0, by exp and log.
[[nodiscard]] double pow(double base, double exponent);

// Standard normal density and distribution function (absolute error below 1e-15), and its inverse
// for 0 < p < 1 (absolute error below 1e-9 for |z| < 5).
[[nodiscard]] double normal_pdf(double z);
[[nodiscard]] double normal_cdf(double z);
[[nodiscard]] double normal_quantile(double p);

// From the middle of a normal variable to its 10th or 90th percentile, in standard deviations.
inline constexpr double kZ80 = 1.2815515655446004;

[[nodiscard]] constexpr double squared(double x) { return x * x; }

}  // namespace backplan::numeric

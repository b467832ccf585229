#include "backplan/numeric.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace backplan::numeric {
namespace {

// ln 2 in two parts, so that n * kLn2High is exact for |n| < 2^11 (fdlibm's well-known split).
constexpr double kLn2High = 6.93147180369123816490e-01;
constexpr double kLn2Low = 1.90821492927058770002e-10;
constexpr double kInverseSqrtTwoPi = 0.3989422804014326779;

// Marsaglia 2004 (J Stat Software 11:4): cdf = 1/2 + pdf (z + z^3/3 + z^5/15 + ...), good for |z| < 8.
double cdf_by_series(double z) {
  double term = z;
  double sum = z;
  for (int i = 3; i < 400; i += 2) {
    term *= z * z / i;
    const double next = sum + term;
    if (next == sum) break;
    sum = next;
  }
  return 0.5 + sum * normal_pdf(z);
}

// Nodes of the distribution function at multiples of 1/16: between them its Taylor series is short.
constexpr int kNodesPerUnit = 16;
constexpr int kCdfReach = 9;
struct CdfNode {
  double cdf = 0.0;
  double pdf = 0.0;
};
using CdfNodes = std::array<CdfNode, 2 * kCdfReach * kNodesPerUnit + 1>;

CdfNodes make_cdf_nodes() {
  CdfNodes nodes;
  for (int i = 0; i < static_cast<int>(nodes.size()); ++i) {
    const double z = static_cast<double>(i - kCdfReach * kNodesPerUnit) / kNodesPerUnit;
    auto& node = nodes[static_cast<std::size_t>(i)];
    node.pdf = normal_pdf(z);
    node.cdf = z >= 0.0 ? cdf_by_series(z) : 1.0 - cdf_by_series(-z);
  }
  return nodes;
}

// 1 / i! for i = 0 to 14.
constexpr std::array<double, 15> kInverseFactorials = [] {
  std::array<double, 15> out{};
  double factorial = 1.0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (i > 1) factorial *= static_cast<double>(i);
    out[i] = 1.0 / factorial;
  }
  return out;
}();

}  // namespace

double exp(double x) {
  if (x > 709.0) return std::numeric_limits<double>::max();
  if (x < -708.0) return 0.0;
  const double n = std::floor(x / 0.69314718055994530942 + 0.5);
  const double r = (x - n * kLn2High) - n * kLn2Low;
  // Taylor series to r^14 / 14!; |r| < 0.347 leaves less than 1e-18.
  double sum = kInverseFactorials.back();
  for (std::size_t i = kInverseFactorials.size() - 1; i-- > 0;) sum = kInverseFactorials[i] + sum * r;
  return std::ldexp(sum, static_cast<int>(n));
}

double log(double x) {
  int exponent = 0;
  double mantissa = std::frexp(x, &exponent);
  if (mantissa < 0.70710678118654752440) {
    mantissa *= 2.0;
    --exponent;
  }
  // ln m = 2 (t + t^3/3 + t^5/5 + ...), t = (m - 1) / (m + 1), |t| < 0.172.
  const double t = (mantissa - 1.0) / (mantissa + 1.0);
  const double t2 = t * t;
  double sum = 0.0;
  for (int i = 21; i >= 1; i -= 2) sum = 1.0 / i + sum * t2;
  return exponent * kLn2High + (exponent * kLn2Low + 2.0 * t * sum);
}

double pow(double base, double exponent) { return exp(exponent * log(base)); }

double normal_pdf(double z) { return kInverseSqrtTwoPi * exp(-0.5 * z * z); }

double normal_cdf(double z) {
  static const CdfNodes nodes = make_cdf_nodes();
  if (z <= -8.5) return 0.0;
  if (z >= 8.5) return 1.0;
  const double place = std::floor(z * kNodesPerUnit + 0.5);
  const double x = place / kNodesPerUnit;
  const double d = z - x;
  const auto& node = nodes[static_cast<std::size_t>(static_cast<int>(place) + kCdfReach * kNodesPerUnit)];
  // Derivatives of the density by Hermite polynomials: He(n+1) = x He(n) - n He(n-1).
  double previous = 0.0;
  double hermite = 1.0;
  double power = d;
  double sum = 0.0;
  for (std::size_t n = 0; n < 9; ++n) {
    sum += hermite * power * kInverseFactorials[n + 1];
    const double next = static_cast<double>(n) * previous - x * hermite;
    previous = -hermite;
    hermite = next;
    power *= d;
  }
  return std::clamp(node.cdf + node.pdf * sum, 0.0, 1.0);
}

double normal_quantile(double p) {
  double low = -9.0;
  double high = 9.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (normal_cdf(middle) < p ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace backplan::numeric

// The planner's own exp, log and normal distribution against those of the C library.
#include "backplan/numeric.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "support/random_source.hpp"

namespace backplan {
namespace {

constexpr int kPoints = 200000;
// Promises of the header. Compared with long double, whose own error does not count.
constexpr double kRelative = 3e-16;
constexpr double kLogRelative = 4e-16;  // as numeric.hpp promises
constexpr double kCdfAbsolute = 1e-15;
constexpr double kQuantileAbsolute = 1e-9;

double relative(double ours, long double truth) {
  return static_cast<double>(std::fabs((static_cast<long double>(ours) - truth) / truth));
}

long double wide(double x) { return static_cast<long double>(x); }

long double true_cdf(double z) { return 0.5L * std::erfc(-wide(z) / std::sqrt(2.0L)); }

TEST(Numeric, ExpIsThatOfTheLibraryToTheLastBits) {
  double worst = 0.0;
  double at = 0.0;
  testing::RandomSource random(1);
  for (int i = 0; i < kPoints; ++i) {
    const double x = i % 2 == 0 ? random.real(-700.0, 700.0) : random.real(-3.0, 3.0);
    const double error = relative(numeric::exp(x), std::exp(wide(x)));
    if (error > worst) worst = error, at = x;
  }
  EXPECT_LE(worst, kRelative) << "at " << at;
  EXPECT_EQ(numeric::exp(0.0), 1.0);
}

TEST(Numeric, ExpSaturatesOutsideItsRange) {
  EXPECT_EQ(numeric::exp(-2000.0), 0.0);
  EXPECT_EQ(numeric::exp(2000.0), std::numeric_limits<double>::max());
  EXPECT_GT(numeric::exp(-707.0), 0.0);
  EXPECT_LT(numeric::exp(708.0), std::numeric_limits<double>::max());
}

TEST(Numeric, LogIsThatOfTheLibraryToTheLastBits) {
  double worst = 0.0;
  double at = 0.0;
  testing::RandomSource random(2);
  for (int i = 0; i < kPoints; ++i) {
    const double x = std::exp(random.real(-300.0, 300.0));
    const double error = relative(numeric::log(x), std::log(wide(x)));
    if (error > worst) worst = error, at = x;
  }
  EXPECT_LE(worst, kLogRelative) << "at " << at;
}

TEST(Numeric, LogNearOneIsRightInAbsoluteTerms) {
  double worst = 0.0;
  testing::RandomSource random(3);
  for (int i = 0; i < kPoints; ++i) {
    const double x = random.real(0.9, 1.1);
    worst = std::max(worst, static_cast<double>(std::fabs(wide(numeric::log(x)) - std::log(wide(x)))));
  }
  EXPECT_LE(worst, 1e-16);
  EXPECT_EQ(numeric::log(1.0), 0.0);
}

TEST(Numeric, ExpAndLogUndoEachOther) {
  testing::RandomSource random(4);
  for (int i = 0; i < kPoints; ++i) {
    const double x = random.real(-20.0, 20.0);
    ASSERT_NEAR(numeric::log(numeric::exp(x)), x, 2e-15 * std::max(1.0, std::fabs(x))) << x;
  }
}

TEST(Numeric, PowIsThatOfTheLibrary) {
  testing::RandomSource random(5);
  for (int i = 0; i < kPoints; ++i) {
    const double base = random.real(0.01, 100.0);
    const double exponent = random.real(-5.0, 5.0);
    // exp magnifies the error of its argument, up to 5 ln 100 = 23, by that argument.
    ASSERT_LE(relative(numeric::pow(base, exponent), std::pow(wide(base), wide(exponent))), 1e-14)
        << base << "^" << exponent;
  }
}

TEST(Numeric, NormalCdfIsRightToFifteenDigits) {
  double worst = 0.0;
  double at = 0.0;
  for (int i = -100000; i <= 100000; ++i) {
    const double z = i * 1e-4;
    const double error = static_cast<double>(std::fabs(wide(numeric::normal_cdf(z)) - true_cdf(z)));
    if (error > worst) worst = error, at = z;
  }
  EXPECT_LE(worst, kCdfAbsolute) << "at " << at;
}

TEST(Numeric, NormalCdfNeverFallsByMoreThanRoundingAndStaysBetweenNoughtAndOne) {
  double before = 0.0;
  for (int i = -100000; i <= 100000; ++i) {
    const double here = numeric::normal_cdf(i * 1e-4);
    ASSERT_GE(here, before - kCdfAbsolute) << i * 1e-4;
    ASSERT_GE(here, 0.0) << i * 1e-4;
    ASSERT_LE(here, 1.0) << i * 1e-4;
    before = here;
  }
}

TEST(Numeric, NormalPdfIsTheSlopeOfTheCdf) {
  for (int i = -60; i <= 60; ++i) {
    const double z = i * 0.1;
    const double slope = (numeric::normal_cdf(z + 1e-4) - numeric::normal_cdf(z - 1e-4)) / 2e-4;
    ASSERT_NEAR(numeric::normal_pdf(z), slope, 1e-8) << z;
  }
}

TEST(Numeric, NormalQuantileUndoesTheTrueDistribution) {
  double worst = 0.0;
  double at = 0.0;
  // Further out the double p itself no longer fixes z to nine digits.
  for (int i = -4999; i <= 4999; ++i) {
    const double z = i * 1e-3;
    const double error = std::fabs(numeric::normal_quantile(static_cast<double>(true_cdf(z))) - z);
    if (error > worst) worst = error, at = z;
  }
  EXPECT_LE(worst, kQuantileAbsolute) << "at " << at;
}

TEST(Numeric, KnownQuantilesComeOut) {
  // Tables of the normal distribution, e.g. Abramowitz & Stegun 26.2.
  EXPECT_NEAR(numeric::normal_quantile(0.5), 0.0, kQuantileAbsolute);
  EXPECT_NEAR(numeric::normal_quantile(0.9), 1.2815515655446004, kQuantileAbsolute);
  EXPECT_NEAR(numeric::normal_quantile(0.05), -1.6448536269514722, kQuantileAbsolute);
  EXPECT_NEAR(numeric::normal_quantile(0.96), 1.7506860712521692, kQuantileAbsolute);
}

}  // namespace
}  // namespace backplan

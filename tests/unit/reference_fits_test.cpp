// The routines of the fit against certified and published values, and against a general-purpose library.
#include <gtest/gtest.h>

#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "backplan/numeric.hpp"
#include "core/growth_fit.hpp"
#include "core/linear_algebra.hpp"
#include "core/one_sided.hpp"

namespace backplan {
namespace {

using Table = std::vector<std::vector<double>>;  // y, then the predictors

// Data and certified values: Statistical Reference Datasets of the US National Institute of Standards and
// Technology (www.itl.nist.gov/div898/strd), a work of the US government.
const Table kMisra1a{{10.07, 77.6},  {14.73, 114.9}, {17.94, 141.1}, {23.93, 190.8}, {29.61, 239.9},
                     {35.18, 289.0}, {40.02, 332.8}, {44.82, 378.4}, {50.76, 434.8}, {55.05, 477.3},
                     {61.01, 536.8}, {66.40, 593.1}, {75.47, 689.1}, {81.78, 760.0}};
const Table kBoxBod{{109, 1}, {149, 2}, {149, 3}, {191, 5}, {213, 7}, {224, 10}};
const Table kDanWood{{2.138, 1.309}, {3.421, 1.471}, {3.597, 1.49},
                     {4.34, 1.565},  {4.882, 1.611}, {5.66, 1.68}};
const Table kNorris{
    {0.1, 0.2},     {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1},    {228.1, 226.5},
    {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4},
    {0.1, 0.6},     {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},
    {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
    {0.6, 0.3},     {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0},
    {10.2, 11.1},   {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5}};
const Table kLongley{
    {60323, 83.0, 234289, 2356, 1590, 107608, 1947},  {61122, 88.5, 259426, 2325, 1456, 108632, 1948},
    {60171, 88.2, 258054, 3682, 1616, 109773, 1949},  {61187, 89.5, 284599, 3351, 1650, 110929, 1950},
    {63221, 96.2, 328975, 2099, 3099, 112075, 1951},  {63639, 98.1, 346999, 1932, 3594, 113270, 1952},
    {64989, 99.0, 365385, 1870, 3547, 115094, 1953},  {63761, 100.0, 363112, 3578, 3350, 116219, 1954},
    {66019, 101.2, 397469, 2904, 3048, 117388, 1955}, {67857, 104.6, 419180, 2822, 2857, 118734, 1956},
    {68169, 108.4, 442769, 2936, 2798, 120445, 1957}, {66513, 110.8, 444546, 4681, 2637, 121950, 1958},
    {68655, 112.6, 482704, 3813, 2552, 123366, 1959}, {69564, 114.2, 502601, 3931, 2514, 125368, 1960},
    {69331, 115.7, 518173, 4806, 2572, 127852, 1961}, {70551, 116.9, 554894, 4007, 2827, 130081, 1962}};
const Table kFilip{
    {0.8116, -6.860120914}, {0.9072, -4.324130045}, {0.9052, -4.358625055}, {0.9039, -4.358426747},
    {0.8053, -6.955852379}, {0.8377, -6.661145254}, {0.8667, -6.355462942}, {0.8809, -6.118102026},
    {0.7975, -7.115148017}, {0.8162, -6.815308569}, {0.8515, -6.519993057}, {0.8766, -6.204119983},
    {0.8885, -5.853871964}, {0.8859, -6.109523091}, {0.8959, -5.79832982},  {0.8913, -5.482672118},
    {0.8959, -5.171791386}, {0.8971, -4.851705903}, {0.9021, -4.517126416}, {0.909, -4.143573228},
    {0.9139, -3.709075441}, {0.9199, -3.499489089}, {0.8692, -6.300769497}, {0.8872, -5.953504836},
    {0.89, -5.642065153},   {0.891, -5.031376979},  {0.8977, -4.680685696}, {0.9035, -4.329846955},
    {0.9078, -3.928486195}, {0.7675, -8.56735134},  {0.7705, -8.363211311}, {0.7713, -8.107682739},
    {0.7736, -7.823908741}, {0.7775, -7.522878745}, {0.7841, -7.218819279}, {0.7971, -6.920818754},
    {0.8329, -6.628932138}, {0.8641, -6.323946875}, {0.8804, -5.991399828}, {0.7668, -8.781464495},
    {0.7633, -8.663140179}, {0.7678, -8.473531488}, {0.7697, -8.247337057}, {0.77, -7.971428747},
    {0.7749, -7.676129393}, {0.7796, -7.352812702}, {0.7897, -7.072065318}, {0.8131, -6.774174009},
    {0.8498, -6.478861916}, {0.8741, -6.159517513}, {0.8061, -6.835647144}, {0.846, -6.53165267},
    {0.8751, -6.224098421}, {0.8856, -5.910094889}, {0.8919, -5.598599459}, {0.8934, -5.290645224},
    {0.894, -4.974284616},  {0.8957, -4.64454848},  {0.9047, -4.290560426}, {0.9129, -3.885055584},
    {0.9209, -3.408378962}, {0.9219, -3.13200249},  {0.7739, -8.726767166}, {0.7681, -8.66695597},
    {0.7665, -8.511026475}, {0.7703, -8.165388579}, {0.7702, -7.886056648}, {0.7761, -7.588043762},
    {0.7809, -7.283412422}, {0.7961, -6.995678626}, {0.8253, -6.691862621}, {0.8602, -6.392544977},
    {0.8809, -6.067374056}, {0.8301, -6.684029655}, {0.8664, -6.378719832}, {0.8834, -6.065855188},
    {0.8898, -5.752272167}, {0.8964, -5.132414673}, {0.8963, -4.811352704}, {0.9074, -4.098269308},
    {0.9119, -3.66174277},  {0.9228, -3.2644011}};

// How many leading digits agree: the log relative error of the reference data sets' own pages.
double digits(double found, double certified) {
  if (found == certified) return 16.0;
  return -std::log10(std::fabs(found - certified) / std::fabs(certified));
}

// Rows of an ordinary regression: each of unit variance.
WhitenedRows regression(const Table& table, bool intercept) {
  WhitenedRows rows;
  rows.columns = static_cast<int>(table[0].size()) - (intercept ? 0 : 1);
  for (const auto& line : table) {
    if (intercept) rows.design.push_back(1.0);
    rows.design.insert(rows.design.end(), line.begin() + 1, line.end());
    rows.target.push_back(line[0]);
  }
  return rows;
}

Table polynomial(const Table& table, int degree) {
  Table out;
  for (const auto& line : table) {
    std::vector<double> row{line[0]};
    double power = 1.0;
    for (int i = 0; i < degree; ++i) row.push_back(power *= line[1]);
    out.push_back(std::move(row));
  }
  return out;
}

double residual_sd(const LinearFit& fit, const Table& table) {
  const auto free = static_cast<double>(table.size() - fit.estimate.size());
  return std::sqrt(fit.residual_square / free);
}

double sd_of(const LinearFit& fit, std::size_t i, const Table& table) {
  return residual_sd(fit, table) * std::sqrt(fit.covariance[i * fit.estimate.size() + i]);
}

// Variable projection: the rate at which the linear least squares of `rows_at` leaves the least, by the
// search that production uses for k, as many steps and as near.
struct ProjectedFit {
  double rate = 0.0;
  LinearFit linear;
};
ProjectedFit fit_rate(const std::function<WhitenedRows(double)>& rows_at, double lowest, double highest) {
  constexpr int kSteps = 32;
  constexpr double kWidth = 1e-7;
  const double log_rate =
      search_minimum([&](double x) { return fit_rows(rows_at(numeric::exp(x))).residual_square; },
                     numeric::log(lowest), numeric::log(highest), kSteps, kWidth);
  const double rate = numeric::exp(log_rate);
  return {rate, fit_rows(rows_at(rate))};
}

// y = b1 (1 - exp(-b2 x)).
ProjectedFit fit_growth_curve(const Table& table, double lowest, double highest) {
  const auto rows_at = [&table](double k) {
    WhitenedRows rows;
    rows.columns = 1;
    for (const auto& line : table) {
      rows.design.push_back(growth_share(k, line[1]));
      rows.target.push_back(line[0]);
    }
    return rows;
  };
  return fit_rate(rows_at, lowest, highest);
}

// Certified: b1 238.94212918, b2 5.5015643181e-4, residual square 0.12455138894.
TEST(ReferenceFits, Misra1aToSevenDigits) {
  const ProjectedFit fit = fit_growth_curve(kMisra1a, 1e-5, 1e-1);
  EXPECT_GE(digits(fit.linear.estimate[0], 238.94212918), 7.0);
  EXPECT_GE(digits(fit.rate, 5.5015643181e-4), 7.0);
  EXPECT_GE(digits(fit.linear.residual_square, 0.12455138894), 9.0);
}

// Certified: b1 213.80940889, b2 0.54723748542, residual square 1168.0088766; its "higher difficulty" is the
// start, which one search over all rates does not need.
TEST(ReferenceFits, BoxBodToSevenDigits) {
  const ProjectedFit fit = fit_growth_curve(kBoxBod, 1e-3, 1e2);
  EXPECT_GE(digits(fit.linear.estimate[0], 213.80940889), 7.0);
  EXPECT_GE(digits(fit.rate, 0.54723748542), 7.0);
  EXPECT_GE(digits(fit.linear.residual_square, 1168.0088766), 9.0);
}

// Certified: b1 0.76886226176, b2 3.8604055871, residual square 4.3173084083e-3; y = b1 x^b2, the exponent
// searched as k is.
TEST(ReferenceFits, DanWoodToSevenDigits) {
  const auto rows_at = [](double exponent) {
    WhitenedRows rows;
    rows.columns = 1;
    for (const auto& line : kDanWood) {
      rows.design.push_back(std::pow(line[1], exponent));
      rows.target.push_back(line[0]);
    }
    return rows;
  };
  const ProjectedFit fit = fit_rate(rows_at, 0.1, 50.0);
  EXPECT_GE(digits(fit.linear.estimate[0], 0.76886226176), 7.0);
  EXPECT_GE(digits(fit.rate, 3.8604055871), 7.0);
  EXPECT_GE(digits(fit.linear.residual_square, 4.3173084083e-3), 9.0);
}

TEST(ReferenceFits, NorrisToTwelveDigits) {
  const LinearFit fit = fit_rows(regression(kNorris, true));
  EXPECT_GE(digits(fit.estimate[0], -0.262323073774029), 12.0);
  EXPECT_GE(digits(fit.estimate[1], 1.00211681802045), 12.0);
  EXPECT_GE(digits(residual_sd(fit, kNorris), 0.884796396144373), 12.0);
  EXPECT_GE(digits(sd_of(fit, 0, kNorris), 0.232818234301152), 12.0);
  EXPECT_GE(digits(sd_of(fit, 1, kNorris), 0.429796848199937e-3), 12.0);
}

TEST(ReferenceFits, LongleyToTenDigits) {
  const LinearFit fit = fit_rows(regression(kLongley, true));
  const std::vector<double> certified{-3482258.63459582, 15.0618722713733,  -0.358191792925910e-01,
                                      -2.02022980381683, -1.03322686717359, -0.511041056535807e-01,
                                      1829.15146461355};
  for (std::size_t i = 0; i < certified.size(); ++i) {
    EXPECT_GE(digits(fit.estimate[i], certified[i]), 10.0) << i;
  }
  EXPECT_GE(digits(residual_sd(fit, kLongley), 304.854073561965), 10.0);
}

// Every certified coefficient is 1, every residual 0.
TEST(ReferenceFits, Wampler1ToNineDigits) {
  Table table;
  for (int x = 0; x <= 20; ++x) {
    double y = 0.0;
    for (int power = 0; power <= 5; ++power) y += std::pow(x, power);
    table.push_back({y, static_cast<double>(x)});
  }
  const LinearFit fit = fit_rows(regression(polynomial(table, 5), true));
  for (const double one : fit.estimate) EXPECT_GE(digits(one, 1.0), 9.0);
}

TEST(ReferenceFits, NoInt1ToFourteenDigits) {
  Table table;
  for (int x = 60; x <= 70; ++x) table.push_back({x + 70.0, static_cast<double>(x)});
  const LinearFit fit = fit_rows(regression(table, false));
  EXPECT_GE(digits(fit.estimate[0], 2.07438016528926), 14.0);
  EXPECT_GE(digits(residual_sd(fit, table), 3.56753034006338), 14.0);
}

// The hardest of the linear sets: eleven powers of values near each other.
TEST(ReferenceFits, FilipToSevenDigits) {
  const LinearFit fit = fit_rows(regression(polynomial(kFilip, 10), true));
  const std::vector<double> certified{-1467.48961422980,      -2772.17959193342,     -2316.37108160893,
                                      -1127.97394098372,      -354.478233703349,     -75.1242017393757,
                                      -10.8753180355343,      -1.06221498588947,     -0.670191154593408e-01,
                                      -0.246781078275479e-02, -0.402962525080404e-04};
  for (std::size_t i = 0; i < certified.size(); ++i) {
    EXPECT_GE(digits(fit.estimate[i], certified[i]), 7.0) << i;
  }
}

// One person's line, shrunk to that of all people by prior rows. Data: reaction times of persons 330 and 309
// on ten days (Belenky 2003, J Sleep Res 12:1); fixed effects and spreads as the R package lme4 1.1-31 gives
// them for all eighteen (REML); expected lines from the same.
struct Shrunk {
  std::vector<double> times;
  double intercept, slope;
};

TEST(ReferenceFits, ShrinksAPersonsLineAsAMixedModelDoes) {
  constexpr double kResidual = 25.5918;
  constexpr double kSdIntercept = 24.7407;
  constexpr double kSdSlope = 5.92214;
  constexpr double kCorrelation = 0.0656;
  constexpr double kIntercept = 251.4051;
  constexpr double kSlope = 10.46729;
  const std::vector<Shrunk> people{
      {{321.5426, 300.4002, 283.8565, 285.1330, 285.7973, 297.5855, 280.2396, 318.2613, 305.3495, 354.0487},
       275.09572,
       5.65293564},
      {{222.7339, 205.2658, 202.9778, 204.7070, 207.7161, 215.9618, 213.6303, 217.7272, 224.2957, 237.3142},
       211.00637,
       1.84760534}};
  const double cov = kCorrelation * kSdIntercept * kSdSlope;
  const auto prior = whiten({kSdIntercept * kSdIntercept, cov, cov, kSdSlope * kSdSlope}, 2,
                            {1.0, 0.0, kIntercept, 0.0, 1.0, kSlope}, 3);
  for (const Shrunk& person : people) {
    WhitenedRows rows;
    rows.columns = 2;
    for (std::size_t day = 0; day < person.times.size(); ++day) {
      rows.design.push_back(1.0 / kResidual);
      rows.design.push_back(static_cast<double>(day) / kResidual);
      rows.target.push_back(person.times[day] / kResidual);
    }
    for (const std::size_t row : {std::size_t{0}, std::size_t{3}}) {
      rows.design.push_back(prior[row]);
      rows.design.push_back(prior[row + 1]);
      rows.target.push_back(prior[row + 2]);
    }
    const LinearFit fit = fit_rows(rows);
    EXPECT_NEAR(fit.estimate[0], person.intercept, 2e-3);  // the spreads are given to four digits
    EXPECT_NEAR(fit.estimate[1], person.slope, 2e-4);
  }
}

// lm.ridge(Employed ~ ., longley) of the R package MASS 7.3-58 with lambda 0.1: prior rows at zero on
// centred columns scaled by their root mean square; in R's units the set is smaller by powers of ten.
TEST(ReferenceFits, RidgeWithPriorRows) {
  const std::vector<double> smaller{1e3, 1.0, 1e3, 10.0, 10.0, 1e3, 1.0};
  const std::vector<double> expected{0.0613640, 0.0116325, -0.0117881, -0.0065749, 0.0074742, 0.517573};
  const std::size_t columns = kLongley[0].size();
  const auto n = static_cast<double>(kLongley.size());
  std::vector<double> mean(columns, 0.0);
  std::vector<double> scale(columns, 0.0);
  const auto value = [&](std::size_t i, std::size_t c) { return kLongley[i][c] / smaller[c]; };
  for (std::size_t c = 0; c < columns; ++c) {
    for (std::size_t i = 0; i < kLongley.size(); ++i) mean[c] += value(i, c) / n;
    for (std::size_t i = 0; i < kLongley.size(); ++i) scale[c] += std::pow(value(i, c) - mean[c], 2) / n;
    scale[c] = std::sqrt(scale[c]);
  }
  WhitenedRows rows;
  rows.columns = static_cast<int>(columns) - 1;
  for (std::size_t i = 0; i < kLongley.size(); ++i) {
    for (std::size_t c = 1; c < columns; ++c) rows.design.push_back((value(i, c) - mean[c]) / scale[c]);
    rows.target.push_back(value(i, 0) - mean[0]);
  }
  for (std::size_t c = 1; c < columns; ++c) {
    for (std::size_t other = 1; other < columns; ++other) {
      rows.design.push_back(c == other ? std::sqrt(0.1) : 0.0);
    }
    rows.target.push_back(0.0);
  }
  const LinearFit fit = fit_rows(rows);
  for (std::size_t c = 1; c < columns; ++c) {
    EXPECT_NEAR(fit.estimate[c - 1] / scale[c], expected[c - 1], 6e-7) << c;
  }
}

// What follows was made by tests/reference/growth_fits.py with scipy 1.10.1 and numpy 1.24.2.

GrowthTask invented_growth() {
  const std::vector<double> s{0.0, 2.0, 4.5, 7.0, 9.0, 12.0, 15.0, 20.0};
  const std::vector<double> y{5.00, 5.03, 5.10, 5.11, 5.16, 5.17, 5.21, 5.22};
  const std::vector<double> sd{0.025, 0.03, 0.025, 0.04, 0.025, 0.03, 0.025, 0.025};
  const std::vector<double> stray{0.0020, 0.0017, 0.0014, 0.0011, 0.0008, 0.0005, 0.0003, 0.0};
  GrowthTask task;
  for (std::size_t i = 0; i < s.size(); ++i) {
    GrowthRow row;
    row.s = s[i];
    row.y = y[i];
    row.variance = sd[i] * sd[i];
    row.stray = stray[i];
    task.rows.push_back(row);
  }
  task.h = 0.20;
  task.h_sd = 0.10;
  task.log_k = std::log(0.12);
  task.log_k_sd = 0.35;
  return task;
}

TEST(ReferenceFits, TheRateAndTheLevelAgreeWithADenseGrid) {
  constexpr double kNow = 20.0;
  const GrowthFit fit = fit_growth(invented_growth(), kNow);
  EXPECT_NEAR(fit.log_k, -2.161266569, 1e-6);
  double log_k = 0.0;
  double log_k_square = 0.0;
  double level = 0.0;
  double square = 0.0;
  for (const GrowthNode& node : fit.nodes) {
    const double g = growth_share(node.k, kNow);
    const auto& c = node.fit.covariance;
    const double mean = node.fit.estimate[kLevel] + g * node.fit.estimate[kHeadroom];
    const double variance = c[0] + 2.0 * g * c[1] + g * g * c[kGrowthColumns + 1];
    log_k += node.weight * std::log(node.k);
    log_k_square += node.weight * std::log(node.k) * std::log(node.k);
    level += node.weight * mean;
    square += node.weight * (mean * mean + variance);
  }
  // Five nodes for the grid's twenty thousand.
  EXPECT_NEAR(log_k, -2.170706, 3e-3);
  EXPECT_NEAR(std::sqrt(log_k_square - log_k * log_k), 0.292837, 3e-3);
  EXPECT_NEAR(level, 5.219057, 1e-5);
  EXPECT_NEAR(std::sqrt(square - level * level), 0.018692, 1e-5);
}

// A level known to 5 +- 0.04 and bounds with a spread of 0.03; the growth has no part in it.
LinearFit level_with_bounds(const std::vector<double>& bounds) {
  GrowthTask task;
  task.v0 = 5.0;
  task.v0_sd = 0.04;
  for (const double bound : bounds) {
    GrowthRow row;
    row.y = bound;
    row.variance = 0.03 * 0.03;
    row.bound = true;
    task.rows.push_back(row);
  }
  return fit_growth_at(task, 0.1);
}

TEST(ReferenceFits, OneBoundIsExact) {
  const LinearFit fit = level_with_bounds({5.05});
  EXPECT_NEAR(fit.estimate[kLevel], 5.0488043288, 1e-8);
  EXPECT_NEAR(std::sqrt(fit.covariance[0]), 0.0279262602, 1e-8);
}

TEST(ReferenceFits, SixBoundsAreRightToAThirtiethOfTheirSpread) {
  const LinearFit fit = level_with_bounds({4.95, 5.00, 5.02, 5.03, 5.05, 5.06});
  EXPECT_NEAR(fit.estimate[kLevel], 5.07455795, 0.0333 * 0.02191345);
  EXPECT_NEAR(std::sqrt(fit.covariance[0]), 0.02191345, 0.0333 * 0.02191345);
}

TEST(ReferenceFits, TheInverseMillsRatioHoldsInItsTails) {
  const std::vector<std::pair<double, double>> expected{{-30.0, 30.033259667436}, {-8.0, 8.1213681122362},
                                                        {-4.0, 4.2256071444895},  {-1.0, 1.525135276161},
                                                        {0.0, 0.79788456080287},  {3.0, 0.0044378390421257}};
  for (const auto& [z, ratio] : expected) EXPECT_GE(digits(inverse_mills(z), ratio), 10.0) << z;
}

}  // namespace
}  // namespace backplan

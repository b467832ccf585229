#include "backplan/running.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace backplan {
namespace {

constexpr Metres kMile{1609.344};
constexpr Metres kTwoMiles{3218.688};
constexpr Metres kFiveKilometres{5000.0};

Seconds clock(int minutes, double seconds) { return Seconds(60.0 * minutes + seconds); }

// Half a unit of the last digit, with a hair for rounding.
double digits(int decimals) { return 0.5001 * std::pow(10.0, -decimals); }

// Riegel 1981 (American Scientist 69:285), exponent 1.06; the three examples worked by hand.
TEST(EquivalentTime, GivesRiegelsExamples) {
  EXPECT_NEAR(equivalent_time(clock(12, 0), kMile * 1.5, kTwoMiles).value(), 976.71, digits(2));
  EXPECT_NEAR(equivalent_time(clock(20, 0), kFiveKilometres, kTwoMiles).value(), 752.34, digits(2));
  EXPECT_NEAR(equivalent_time(clock(16, 0), kTwoMiles, kMile * 3).value(), 1475.46, digits(2));
}

TEST(EquivalentTime, LeavesATimeOverItsOwnDistanceAndFollowsTheExponent) {
  EXPECT_DOUBLE_EQ(equivalent_time(clock(16, 0), kTwoMiles, kTwoMiles).value(), 960.0);
  EXPECT_NEAR(equivalent_time(clock(8, 0), kMile, kTwoMiles, 1.0).value(), 960.0, 1e-9);
}

// Daniels & Gilbert 1979: index, metres, minutes, m/min, cost, share, computed once from the
// published coefficients in another program and printed to these digits.
struct IndexRow {
  double index, metres, minutes, speed, cost, share;
};
constexpr IndexRow kIndexRows[] = {
    {30, 1500, 8.49245, 176.628, 30.8363, 1.02788},      {30, 1609.344, 9.17278, 175.448, 30.5781, 1.01927},
    {30, 2414.016, 14.23005, 169.642, 29.3116, 0.97705}, {30, 3000, 17.93339, 167.286, 28.7996, 0.95999},
    {30, 3218.688, 19.31785, 166.617, 28.6545, 0.95515}, {30, 4828.032, 29.57540, 163.245, 27.9242, 0.93081},
    {30, 5000, 30.68129, 162.966, 27.8638, 0.92879},     {30, 10000, 63.81422, 156.705, 26.5146, 0.88382},
    {35, 1500, 7.41463, 202.303, 36.5276, 1.04365},      {35, 1609.344, 8.01124, 200.886, 36.2099, 1.03457},
    {35, 2414.016, 12.46577, 193.652, 34.5946, 0.98842}, {35, 3000, 15.73761, 190.626, 33.9223, 0.96921},
    {35, 3218.688, 16.96075, 189.773, 33.7330, 0.96380}, {35, 4828.032, 26.00357, 185.668, 32.8246, 0.93785},
    {35, 5000, 26.97618, 185.349, 32.7541, 0.93583},     {35, 10000, 56.03117, 178.472, 31.2406, 0.89259},
    {40, 1500, 6.58465, 227.802, 42.3158, 1.05789},      {40, 1609.344, 7.11552, 226.174, 41.9421, 1.04855},
    {40, 2414.016, 11.09536, 217.570, 39.9768, 0.99942}, {40, 3000, 14.02952, 213.835, 39.1285, 0.97821},
    {40, 3218.688, 15.12717, 212.775, 38.8884, 0.97221}, {40, 4828.032, 23.23338, 207.806, 37.7653, 0.94413},
    {40, 5000, 24.10365, 207.437, 37.6823, 0.94206},     {40, 10000, 50.01285, 199.949, 36.0001, 0.90000},
    {45, 1500, 5.92752, 253.057, 48.1816, 1.07070},      {45, 1609.344, 6.40552, 251.243, 47.7560, 1.06124},
    {45, 2414.016, 10.00159, 241.363, 45.4490, 1.00998}, {45, 3000, 12.66318, 236.907, 44.4152, 0.98701},
    {45, 3218.688, 13.65997, 235.629, 44.1195, 0.98043}, {45, 4828.032, 21.02031, 229.684, 42.7483, 0.94996},
    {45, 5000, 21.80955, 229.257, 42.6501, 0.94778},     {45, 10000, 45.22485, 221.117, 40.7853, 0.90634},
    {50, 1500, 5.39529, 278.020, 54.1101, 1.08220},      {50, 1609.344, 5.82998, 276.046, 53.6366, 1.07273},
    {50, 2414.016, 9.10953, 264.999, 51.0015, 1.02003},  {50, 3000, 11.54591, 259.832, 49.7778, 0.99556},
    {50, 3218.688, 12.45958, 258.330, 49.4232, 0.98846}, {50, 4828.032, 19.21027, 251.326, 47.7752, 0.95550},
    {50, 5000, 19.93368, 250.832, 47.6594, 0.95319},     {50, 10000, 41.32673, 241.974, 45.5911, 0.91182},
    {55, 1500, 4.95603, 302.662, 60.0894, 1.09253},      {55, 1609.344, 5.35467, 300.549, 59.5718, 1.08312},
    {55, 2414.016, 8.36899, 288.448, 56.6249, 1.02954},  {55, 3000, 10.61588, 282.596, 55.2108, 1.00383},
    {55, 3218.688, 11.45970, 280.870, 54.7952, 0.99628}, {55, 4828.032, 17.70141, 272.748, 52.8473, 0.96086},
    {55, 5000, 18.37021, 272.180, 52.7115, 0.95839},     {55, 10000, 38.09195, 262.523, 50.4143, 0.91662},
    {60, 1500, 4.58764, 326.965, 66.1103, 1.10184},      {60, 1609.344, 4.95589, 324.733, 65.5522, 1.09254},
    {60, 2414.016, 7.74504, 311.685, 62.3105, 1.03851},  {60, 3000, 9.83019, 305.182, 60.7081, 1.01180},
    {60, 3218.688, 10.61438, 303.238, 60.2308, 1.00385}, {60, 4828.032, 16.42375, 293.966, 57.9650, 0.96608},
    {60, 5000, 17.04642, 293.317, 57.8069, 0.96345},     {60, 10000, 35.36425, 282.771, 55.2532, 0.92089},
    {65, 1500, 4.27445, 350.922, 72.1657, 1.11024},      {65, 1609.344, 4.61676, 348.587, 71.5702, 1.10108},
    {65, 2414.016, 7.21262, 334.693, 68.0506, 1.04693},  {65, 3000, 9.15809, 327.579, 66.2640, 1.01945},
    {65, 3218.688, 9.89074, 325.424, 65.7249, 1.01115},  {65, 4828.032, 15.32760, 314.990, 63.1281, 0.97120},
    {65, 5000, 15.91070, 314.254, 62.9458, 0.96840},     {65, 10000, 33.03255, 302.732, 60.1065, 0.92472},
    {70, 1500, 4.00500, 374.532, 78.2499, 1.11786},      {70, 1609.344, 4.32494, 372.107, 77.6198, 1.10885},
    {70, 2414.016, 6.75328, 357.458, 73.8384, 1.05483},  {70, 3000, 8.57695, 349.775, 71.8729, 1.02676},
    {70, 3218.688, 9.26458, 347.418, 71.2726, 1.01818},  {70, 4828.032, 14.37665, 335.825, 68.3357, 0.97622},
    {70, 5000, 14.92539, 335.000, 68.1277, 0.97325},     {70, 10000, 31.01584, 322.416, 64.9739, 0.92820},
};

TEST(AerobicIndex, GivesEachRowOfTheTableToItsPrintedDigits) {
  for (const IndexRow& row : kIndexRows) {
    SCOPED_TRACE(testing::Message() << "index " << row.index << " over " << row.metres << " m");
    const Seconds time = time_for_index(row.index, Metres(row.metres));
    EXPECT_NEAR(time.value() / 60.0, row.minutes, digits(5));
    const double minutes = time.value() / 60.0;
    EXPECT_NEAR(row.metres / minutes, row.speed, digits(3));
    EXPECT_NEAR(oxygen_cost(row.metres / minutes), row.cost, digits(4));
    EXPECT_NEAR(sustainable_share(minutes), row.share, digits(5));
  }
}

TEST(AerobicIndex, IsUndoneByItsInverse) {
  for (int halves = 30; halves <= 170; halves += 5) {
    const double index = halves / 2.0;
    for (const double metres : {800.0, 1500.0, 3218.688, 10000.0, 42195.0}) {
      EXPECT_NEAR(aerobic_index(Metres(metres), time_for_index(index, Metres(metres))), index, 1e-8);
    }
  }
}

TEST(AerobicIndex, InverseHitsATimeWithinAMicrosecond) {
  for (int whole = 600; whole <= 1800; whole += 7) {
    const double seconds = whole;
    EXPECT_NEAR(time_for_index(aerobic_index(kTwoMiles, Seconds(seconds)), kTwoMiles).value(), seconds, 1e-6);
  }
}

// The row for index 50 as the book prints it (from memory): agreement within 0.1 %.
TEST(AerobicIndex, AgreesWithTheBooksRowForFifty) {
  const auto within = [](Metres distance, Seconds printed) {
    EXPECT_NEAR(time_for_index(50.0, distance) / printed, 1.0, 0.001) << distance.value();
  };
  within(kMile, clock(5, 50));
  within(kTwoMiles, clock(12, 28));
  within(kFiveKilometres, clock(19, 57));
  within(Metres(10000.0), clock(41, 21));
  within(Metres(42195.0), clock(190, 49));
}

TEST(AerobicIndex, PlacesTwoMileTimes) {
  // Computed from the published equations.
  const struct {
    double minutes, index;
  } rows[] = {{12.0, 52.19}, {13.5, 45.61}, {15.0, 40.39}, {16.0, 37.47},
              {18.0, 32.63}, {20.0, 28.78}, {21.0, 27.13}};
  for (const auto& row : rows) {
    EXPECT_NEAR(aerobic_index(kTwoMiles, Seconds(60.0 * row.minutes)), row.index, digits(2));
  }
}

// The distance-time equations agree within 0.9 % between 1.5 and 3 miles.
TEST(EquivalentTime, AgreesWithTheOxygenCostEquationsBetweenOneAndAHalfAndThreeMiles) {
  const struct {
    Seconds time;
    Metres from, to;
    double printed;
  } rows[] = {{clock(12, 0), kMile * 1.5, kTwoMiles, 980.28},
              {clock(20, 0), kFiveKilometres, kTwoMiles, 750.12},
              {clock(16, 0), kTwoMiles, kMile * 3, 1473.08}};
  for (const auto& row : rows) {
    const Seconds by_cost = time_for_index(aerobic_index(row.from, row.time), row.to);
    EXPECT_NEAR(by_cost.value(), row.printed, digits(2));
    EXPECT_NEAR(equivalent_time(row.time, row.from, row.to) / by_cost, 1.0, 0.009);
  }
}

TEST(SpeedAtShare, CostsExactlyThatShareOfTheIndex) {
  for (int whole = 15; whole <= 85; whole += 5) {
    const double index = whole;
    for (const double share : {0.65, 0.83, 1.0}) {
      EXPECT_NEAR(oxygen_cost(speed_at_share(index, share)), share * index, 1e-10);
    }
  }
}

void expect_pace(PaceBand band, Seconds slow, Seconds fast) {
  EXPECT_NEAR(band.slow_mile.value(), slow.value(), 0.51);
  EXPECT_NEAR(band.fast_mile.value(), fast.value(), 0.51);
}

// Textbook convention of intensity bands (from memory), computed for two runners.
TEST(Paces, ForATwoMilerOfSixteenMinutes) {
  const double index = aerobic_index(kTwoMiles, clock(16, 0));
  expect_pace(interval_pace(index), clock(7, 55), clock(7, 48));
  expect_pace(threshold_pace(index), clock(9, 3), clock(8, 38));
  expect_pace(easy_pace(index), clock(10, 59), clock(9, 48));
}

TEST(Paces, ForATwoMilerOfThirteenThirty) {
  const double index = aerobic_index(kTwoMiles, clock(13, 30));
  expect_pace(interval_pace(index), clock(6, 45), clock(6, 39));
  expect_pace(threshold_pace(index), clock(7, 44), clock(7, 22));
  expect_pace(easy_pace(index), clock(9, 24), clock(8, 23));
}

}  // namespace
}  // namespace backplan

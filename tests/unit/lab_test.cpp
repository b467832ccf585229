// Parts of the laboratory (tests/lab, docs/laboratory.md).
#include <gtest/gtest.h>

#include <cmath>

#include "backplan/progress.hpp"
#include "lab/cohort.hpp"
#include "lab/omniscient_fit.hpp"
#include "lab/statistics.hpp"
#include "lab/tables.hpp"
#include "property/shipped_data.hpp"

namespace backplan::lab {
namespace {

Traits traits_of(Family family) {
  Traits out;
  out.family = family;
  out.start = 5.0;
  out.h = 0.2;
  out.k = 0.1;
  out.dose = {1.3, 0.5, 2.0};
  out.loss_per_week = 0.01;
  out.grace_days = 14;
  out.loss_cap = 0.12;
  return out;
}

// After so many days of the same work.
double after(Family family, double stimulus_a_week, int days) {
  Response response(traits_of(family));
  for (int day = 0; day < days; ++day) response.pass(stimulus_a_week / 7.0);
  return response.ability();
}

std::vector<Family> all_families() {
  std::vector<Family> out = strange_families();
  out.push_back(Family::as_assumed);
  return out;
}

Knowledge knowledge() {
  return {testing::shipped_standard("us-army-aft"), testing::shipped_model(), testing::shipped_rules()};
}

CohortSize small_size() {
  CohortSize out;
  out.people = 2;
  out.threads = 1;
  out.minutes = {90};
  out.families = {Family::logarithmic, Family::changed_transfer};
  out.ways = {Way::nothing, Way::equal_split};
  return out;
}

TEST(LabResponse, MoreWorkNeverBringsLess) {
  for (const Family family : all_families()) {
    double before = -1.0;
    for (double week = 0.0; week <= 4.0; week += 0.25) {
      const double now = after(family, week, 70);
      EXPECT_GE(now, before) << to_string(family) << " at " << week;
      before = now;
    }
    EXPECT_GT(before, 5.03) << to_string(family) << ": work brings something";
  }
}

TEST(LabResponse, NoWorkBringsNothing) {
  for (const Family family : all_families()) {
    for (const int days : {1, 7, 30, 90}) EXPECT_LE(after(family, 0.0, days), 5.0) << to_string(family);
    EXPECT_LT(after(family, 0.0, 60), 5.0) << to_string(family) << ": two months without work cost something";
  }
}

TEST(LabResponse, TheKeepDoseHoldsTheLevel) {
  for (const Family family : all_families())
    EXPECT_NEAR(after(family, 0.5, 70), 5.0, 1e-6) << to_string(family);
}

TEST(LabResponse, NothingIsGainedUnderTheThreshold) {
  // Three tenths of the way from the keep dose to the reference dose.
  EXPECT_NEAR(after(Family::threshold, 0.94, 70), 5.0, 1e-9);
  EXPECT_GT(after(Family::threshold, 1.2, 70), 5.005);
}

TEST(LabResponse, TwoStatesAreBetterAfterSomeEasyDays) {
  Traits traits = traits_of(Family::two_states);
  traits.h = 0.05;
  Response response(traits);
  for (int day = 0; day < 56; ++day) response.pass(2.5 / 7.0);
  const double tired = response.ability();
  for (int day = 0; day < 5; ++day) response.pass(0.8 / 7.0);
  EXPECT_GT(response.ability(), tired);
}

// Student 1908 (Biometrika 6:1), hours of sleep gained by ten people from two drugs: the mean difference is
// 1.58 with a standard deviation of 1.23.
TEST(LabStatistics, AgreeWithStudentsSleepExample) {
  const std::vector<double> first = {0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0};
  const std::vector<double> second = {1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4};
  const Estimate found = paired_difference(second, first);
  EXPECT_NEAR(found.value, 1.58, 1e-12);
  EXPECT_NEAR(found.half, 1.959963984540054 * 1.229995 / std::sqrt(10.0), 1e-6);
}

TEST(LabStatistics, ARatioOfPairsHasNoSpreadWhereAllPairsAgree) {
  const Estimate same = paired_ratio({2.0, 4.0, 8.0}, {1.0, 2.0, 4.0});
  EXPECT_DOUBLE_EQ(same.value, 2.0);
  EXPECT_NEAR(same.half, 0.0, 1e-12);
  // Left over: -1 and 1, whose mean has a standard error of 1.
  const Estimate spread = paired_ratio({1.0, 3.0}, {1.0, 1.0});
  EXPECT_DOUBLE_EQ(spread.value, 2.0);
  EXPECT_NEAR(spread.half, 1.959963984540054, 1e-12);
}

TEST(LabCohort, TheSameSeedGivesTheSameTableWithAnyNumberOfThreads) {
  CohortSize size = small_size();
  const std::string once = cells(Cohort(size, knowledge()));
  size.threads = 2;
  EXPECT_EQ(cells(Cohort(size, knowledge())), once);
  size.seed = 2;
  EXPECT_NE(cells(Cohort(size, knowledge())), once);
}

TEST(LabCohort, APersonIsTheSameWithAnyMinutes) {
  const Person few = draw_person(7, Family::power, 60, knowledge());
  const Person many = draw_person(7, Family::power, 240, knowledge());
  EXPECT_EQ(few.candidate.results.front().value, many.candidate.results.front().value);
  EXPECT_EQ(few.events.front().traits().h, many.events.front().traits().h);
  EXPECT_NE(few.candidate.week, many.candidate.week);
}

// Plans of every week until the test, made anew from a journal with holes in it.
TEST(LabCohort, TheCheckerFindsNothingInAnyWeeklyPlan) {
  CohortSize size = small_size();
  size.people = 3;
  size.minutes = {180};
  size.ways = {Way::equal_split, Way::plan_once, Way::replan_weekly, Way::straighter};
  const Cohort cohort(size, knowledge());
  for (std::size_t family = 0; family < size.families.size(); ++family) {
    for (std::size_t way = 0; way < size.ways.size(); ++way) {
      for (int person = 0; person < size.people; ++person)
        EXPECT_EQ(cohort.at(family, 0, way, person).broken_rules, 0) << to_string(size.ways[way]);
    }
  }
}

TEST(LabOmniscient, TheCurvesThroughAResponseForetellWhatItWillBe) {
  for (const Family family : all_families()) {
    const Response response(traits_of(family));
    const Linearised fit = linearise(response, 70, 7);
    const DoseCurve curve(fit.dose);
    for (const double week : {0.9, 1.5, 2.5}) {
      const double foretold = fit.h * (1.0 - std::exp(-fit.k * 9.0 * curve.gain(week)));
      EXPECT_NEAR(5.0 + foretold, after(family, week, 70), 0.02) << to_string(family) << " at " << week;
    }
  }
}

}  // namespace
}  // namespace backplan::lab

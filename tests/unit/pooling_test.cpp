#include "backplan/pooling.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "backplan/programme.hpp"
#include "property/shipped_data.hpp"
#include "support/histories.hpp"
#include "support/random_squads.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

// A fit whose log says that the rate is `rate` times what was assumed; headroom is told nothing of.
Fit fit_with_rate(double rate, double found_sd = 0.1) {
  Fit fit;
  EventState state;
  state.model = testing::shipped_model().find_event("MDL");
  FitReport report;
  report.event = "MDL";
  report.rate = {0.12, 0.35, 0.12 * rate, found_sd};
  report.headroom = {0.2, 0.1, 0.2055, 0.0942};  // the prior itself, cut off at nought
  fit.states.push_back(state);
  fit.reports.push_back(report);
  return fit;
}

TEST(Pooling, MovesTheRateTowardsWhatAllLogsSay) {
  const std::vector<Fit> fits(12, fit_with_rate(1.4));
  const auto pooled = pool(fits);
  ASSERT_EQ(pooled.size(), 1U);
  EXPECT_EQ(pooled[0].people, 12);
  EXPECT_GT(pooled[0].rate_shift, 0.25);
  EXPECT_LT(pooled[0].rate_shift, std::log(1.4) * 1.15);  // the prior taken out again makes it a little more
  EXPECT_NEAR(pooled[0].headroom_shift, 0.0, 1e-9);
}

// One row of 1 / 0.25 and one of 1 / sqrt(s^2 + 0.3^2), s^2 = 1 / (1 / 0.1^2 - 1 / 0.35^2).
TEST(Pooling, IsTheLeastSquaresSolutionOfOneLog) {
  const double precision = 1.0 / 0.01 - 1.0 / (0.35 * 0.35);
  const double said = std::log(1.4) / 0.01 / precision;
  const double weight = 1.0 / (1.0 / precision + 0.09);
  const auto pooled = pool({fit_with_rate(1.4)});
  EXPECT_NEAR(pooled[0].rate_shift, said * weight / (weight + 16.0), 1e-9);
  EXPECT_NEAR(pooled[0].rate_sd, 1.0 / std::sqrt(weight + 16.0), 1e-9);
}

TEST(Pooling, LeavesTheOwnLogOut) {
  std::vector<Fit> fits(5, fit_with_rate(1.0));
  fits.push_back(fit_with_rate(3.0));
  EXPECT_NEAR(pool(fits, 5).front().rate_shift, 0.0, 1e-9);
  EXPECT_GT(pool(fits).front().rate_shift, 0.05);
}

// Three sprints of one standard are one kind of event: its rate is moved once.
TEST(Pooling, PoolsEventsOfOneKindOnce) {
  Fit fit = fit_with_rate(1.4);
  for (int more = 0; more < 2; ++more) {
    fit.states.push_back(fit.states.front());
    fit.reports.push_back(fit.reports.front());
  }
  const std::vector<Fit> fits(12, fit);
  const auto pooled = pool(fits);
  ASSERT_EQ(pooled.size(), 1U);
  EXPECT_EQ(pooled[0].people, 12);
  const Model before = testing::shipped_model();
  const Model after = moved(before, pooled);
  EXPECT_NEAR(after.events.at("MDL").k_per_week,
              before.events.at("MDL").k_per_week * std::exp(pooled[0].rate_shift), 1e-12);
}

TEST(Pooling, SaysNothingWithoutLogsThatTell) {
  EXPECT_TRUE(pool({fit_with_rate(1.3, 0.349), Fit{}}).empty());
}

TEST(Pooling, MovesTheDefaultsOfTheEvent) {
  const Model& model = testing::shipped_model();
  const Model after = moved(model, {{"MDL", 3, std::log(1.1), 0.1, std::log(0.8), 0.1}});
  EXPECT_NEAR(after.events.at("MDL").k_per_week, 0.8 * model.events.at("MDL").k_per_week, 1e-12);
  EXPECT_NEAR(after.events.at("MDL").headroom_factor, 1.1, 1e-12);
  EXPECT_EQ(after.events.at("2MR").k_per_week, model.events.at("2MR").k_per_week);
}

// Half a year in which the deadlift rises by two fifths: more than the model expects of anybody.
History rising_lifts(Date as_of) {
  constexpr int kWeeks = 26;
  support::HistoryMaker maker(as_of - Days(7 * kWeeks));
  for (int week = 0; week < kWeeks; ++week) {
    for (const int day : {0, 3})
      maker.lift(as_of - Days(7 * (kWeeks - week) - day), 150.0 + 60.0 * week / kWeeks, 3, 1.0, 45);
  }
  return maker.made();
}

double deadlift_on_test_day(const Programme& programme, std::size_t person) {
  return programme.people.at(person).plan.outlook.events.front().test_day_result;
}

TEST(Pooling, WhatTheLogsOfOthersSayMovesTheForecastOfWhoHasNone) {
  const Date as_of = test::day(2026, 12, 1);
  const Knowledge knowledge{testing::shipped_standard("us-army-aft"), testing::shipped_model(),
                            testing::shipped_rules()};
  testing::RandomSource random(1);
  testing::SquadKnobs knobs;
  knobs.people = 4;
  knobs.plain = true;
  Squad squad = testing::random_squad(random, knowledge.standard, as_of, knobs);
  std::vector<History> histories(squad.members.size(), rising_lifts(as_of));
  histories.back() = {};
  squad.pooling = true;
  const Programme pooled = make_programme(squad, knowledge, as_of, histories);
  squad.pooling = false;
  const Programme apart = make_programme(squad, knowledge, as_of, histories);
  ASSERT_FALSE(pooled.pooled.empty());
  EXPECT_EQ(pooled.pooled.front().event, "MDL");
  EXPECT_TRUE(apart.pooled.empty());
  const std::size_t last = squad.members.size() - 1;
  EXPECT_GT(deadlift_on_test_day(pooled, last), deadlift_on_test_day(apart, last));
}

}  // namespace
}  // namespace backplan

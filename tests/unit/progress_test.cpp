// Where a candidate stands and what there is to gain: the fit of single results, several results and none.
#include "backplan/progress.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

#include "backplan/evidence.hpp"
#include "backplan/numeric.hpp"
#include "property/shipped_data.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

const Model& model() { return testing::shipped_model(); }

const Standard& standard() { return testing::shipped_standard("us-army-aft"); }

const Date kToday = test::day(2026, 11, 2);

Candidate person(Background background = Background::regular) {
  Candidate candidate;
  candidate.id = "invented";
  candidate.birth_date = test::day(2002, 5, 1);
  candidate.column = "male";
  candidate.standard = standard().id;
  candidate.category = "general";
  candidate.test_date = test::day(2027, 3, 1);
  candidate.background = background;
  return candidate;
}

DatedResult result(const std::string& event, double value, Date date, Setting setting = Setting::record) {
  DatedResult made;
  made.event = event;
  made.value = value;
  made.date = date;
  made.setting = setting;
  return made;
}

EventState fit(const Candidate& candidate, const std::string& event) {
  for (const EventState& state : fit_progress(candidate, standard(), model(), kToday)) {
    if (state.event->id == event) return state;
  }
  throw std::runtime_error("no event " + event);
}

EventState fit_one(const std::string& event, double value, Background background = Background::regular) {
  Candidate candidate = person(background);
  candidate.results = {result(event, value, kToday)};
  return fit(candidate, event);
}

// Plausible results of an event from poor to excellent, in equal steps of v.
std::vector<double> ladder(const Event& event) {
  std::vector<double> out;
  const double low = std::max(event.least_plausible, event.resolution);
  constexpr int kSteps = 200;
  for (int i = 0; i <= kSteps; ++i) {
    const double share = event.direction == Direction::more_is_better ? i : kSteps - i;
    out.push_back(low * std::pow(event.most_plausible / low, share / kSteps));
  }
  return out;
}

TEST(Progress, RecoversASingleRecordResultOfToday) {
  for (const Event& event : standard().events) {
    for (const double value : ladder(event)) {
      const EventState state = fit_one(event.id, value);
      EXPECT_TRUE(state.measured);
      ASSERT_NEAR(state.v0, ability_of(value, event.direction), 1e-9) << event.id << " " << value;
      ASSERT_NEAR(state.mean(0.0, 0.0), state.v0, 1e-9);
      const double noise = noise_of(*state.model, value);
      for (const auto& node : state.nodes) ASSERT_NEAR(node.var_v0, noise * noise, 1e-9) << event.id;
    }
  }
}

TEST(Progress, TheNodesOfTheRateAreALogNormalVariable) {
  const EventState state = fit_one("MDL", 250.0);
  double weight = 0.0;
  double mean = 0.0;
  double square = 0.0;
  for (const auto& node : state.nodes) {
    const double log_k = std::log(node.k / state.model->k_per_week);
    weight += node.weight;
    mean += node.weight * log_k;
    square += node.weight * log_k * log_k;
  }
  EXPECT_NEAR(weight, 1.0, 1e-12);
  EXPECT_NEAR(mean, 0.0, 1e-12);
  EXPECT_NEAR(std::sqrt(square), state.model->k_log_sd, 1e-9);
}

// By hand: generalised least squares of two numbers, drift shared since the later one.
TEST(Progress, WeighsTwoResultsByTheirSpreadAndAge) {
  Candidate candidate = person();
  const Date early = kToday - Days(9 * 7);
  const Date late = kToday - Days(7);
  candidate.results = {result("2MR", 1000.0, early), result("2MR", 940.0, late, Setting::single)};
  const EventState state = fit(candidate, "2MR");
  const EventModel& run = *state.model;
  const double drift2 = model().drift_per_sqrt_week * model().drift_per_sqrt_week;
  const Bias bias = run.bias.at(Setting::single);
  const double a = run.noise_sd * run.noise_sd + drift2 * 9.0;
  const double b = run.noise_sd * run.noise_sd + bias.sd * bias.sd + drift2 * 1.0;
  const double both = drift2 * 1.0;
  const double first = (b - both) / (a + b - 2.0 * both);
  const double expected = first * -std::log(1000.0) + (1.0 - first) * (-std::log(940.0) + bias.mean);
  EXPECT_NEAR(state.v0, expected, 1e-9);
  EXPECT_NEAR(state.nodes[0].var_v0, (a * b - both * both) / (a + b - 2.0 * both), 1e-9);
  EXPECT_LT(first, 0.5) << "the older result counts less";
}

TEST(Progress, OlderResultsAreLessCertain) {
  Candidate candidate = person();
  candidate.results = {result("MDL", 250.0, kToday - Days(16 * 7))};
  const double sd = model().find_event("MDL")->noise_sd;
  const double drift = model().drift_per_sqrt_week;
  EXPECT_NEAR(fit(candidate, "MDL").nodes[2].var_v0, sd * sd + 16.0 * drift * drift, 1e-12);
}

// The scale's own percentiles: 60 points are the 5th and 100 points the 96th of those it was made
// for (the Army's published questions and answers on the 2022 test).
TEST(Progress, AnEventWithoutAResultGetsThePercentilesOfItsScale) {
  const Candidate candidate = person();
  for (const EventState& state : fit_progress(candidate, standard(), model(), kToday)) {
    EXPECT_FALSE(state.measured);
    const auto share_below = [&](int points) {
      const double v =
          ability_of(state.scale->row_for(Points::whole(points))->result, state.event->direction);
      double sum = 0.0;
      for (const auto& node : state.nodes) {
        sum += node.weight * 0.5 * std::erfc((node.v0 - v) / std::sqrt(2.0 * node.var_v0));
      }
      return sum;
    };
    EXPECT_NEAR(share_below(60), 0.05, 1e-6) << state.event->id;
    EXPECT_NEAR(share_below(100), 0.96, 1e-6) << state.event->id;
  }
}

TEST(Progress, AnEventWithoutAResultIsFarLessCertainThanAMeasuredOne) {
  const Candidate nothing = person();
  for (const Event& event : standard().events) {
    const EventState broad = fit(nothing, event.id);
    const double middle = result_of(broad.v0, event.direction);
    EXPECT_GT(broad.nodes[2].var_v0, 4.0 * fit_one(event.id, middle).nodes[2].var_v0) << event.id;
  }
}

TEST(Progress, ABetterSingleResultNeverLowersTheCeiling) {
  for (const Background background :
       {Background::new_to_training, Background::regular, Background::long_trained}) {
    for (const Event& event : standard().events) {
      double before = -1e9;
      for (const double value : ladder(event)) {
        const EventState state = fit_one(event.id, value, background);
        for (const auto& node : state.nodes) ASSERT_GE(node.h, 0.0);
        const double ceiling = state.nodes[2].v0 + state.nodes[2].h;
        ASSERT_GE(ceiling, before - 1e-9) << event.id << " " << value << " " << to_string(background);
        before = ceiling;
      }
    }
  }
}

// Of two results each may be the better one; neither may cost anything at any dose.
TEST(Progress, ABetterOneOfTwoResultsNeverLowersTheAbilityAtAnyDose) {
  for (const Event& event : standard().events) {
    for (const std::size_t better : {std::size_t{0}, std::size_t{1}}) {
      Candidate candidate = person(Background::new_to_training);
      const Candidate nothing = person();
      const double middle = result_of(fit(nothing, event.id).v0 - 0.1, event.direction);
      candidate.results = {result(event.id, middle, kToday - Days(60)), result(event.id, middle, kToday)};
      const EventState before = fit(candidate, event.id);
      candidate.results[better].value *= event.direction == Direction::more_is_better ? 1.05 : 1.0 / 1.05;
      const EventState after = fit(candidate, event.id);
      for (const double s : {0.0, 5.0, 10.0, 20.0}) {
        EXPECT_GE(after.mean(s, 0.0), before.mean(s, 0.0) - 1e-9)
            << event.id << ", result " << better + 1 << " of 2 five in a hundred better, S " << s;
      }
    }
  }
}

TEST(Progress, TheCapOfHoldsFallsWithoutAJumpAtNinetySeconds) {
  const auto h = [&](double seconds) {
    return fit_one("PLK", seconds, Background::new_to_training).nodes[2].h;
  };
  EXPECT_NEAR(h(90.0 - 1e-6), h(90.0 + 1e-6), 1e-6);
  EXPECT_NEAR(h(90.0), 0.50, 1e-9);
  EXPECT_NEAR(h(30.0), 0.80, 1e-9);
  for (int halves = 40; halves < 480; ++halves) {
    const double seconds = 0.5 * halves;
    ASSERT_LE(std::fabs(h(seconds + 0.5) - h(seconds)), 1.01 * std::log((seconds + 0.5) / seconds))
        << seconds;
  }
}

TEST(Progress, HeadroomFallsWithTrainingAndAge) {
  const double fresh = fit_one("MDL", 200.0, Background::new_to_training).nodes[2].h;
  EXPECT_NEAR(fit_one("MDL", 200.0, Background::regular).nodes[2].h, model().background_regular * fresh,
              1e-9);
  EXPECT_NEAR(fit_one("MDL", 200.0, Background::long_trained).nodes[2].h, model().background_long * fresh,
              1e-9);
}

TEST(Progress, ADoseAddsNothingAtTheKeepDoseAndOneAtTheReferenceDose) {
  for (const auto& [id, event] : model().events) {
    EXPECT_EQ(dose_gain(event.dose, 0.0), 0.0) << id;
    EXPECT_NEAR(dose_gain(event.dose, event.dose.keep), 0.0, 1e-12) << id;
    EXPECT_NEAR(dose_gain(event.dose, event.dose.reference), 1.0, 1e-12) << id;
    EXPECT_NEAR(dose_shortfall(event.dose, 0.0), 1.0, 1e-12) << id;
    EXPECT_NEAR(dose_shortfall(event.dose, event.dose.keep), 0.0, 1e-12) << id;
    for (int step = 0; step < 200; ++step) {
      const double u = 0.05 * step;
      ASSERT_GE(dose_gain(event.dose, u + 0.05), dose_gain(event.dose, u)) << id << " " << u;
      ASSERT_LE(dose_shortfall(event.dose, u + 0.05), dose_shortfall(event.dose, u)) << id << " " << u;
      const bool gains = dose_gain(event.dose, u) > 1e-12;
      ASSERT_FALSE(gains && dose_shortfall(event.dose, u) > 1e-12) << id << ": gains and loses at " << u;
    }
  }
}

TEST(Progress, WhoTrainsLittleHoldsTheLittleWithLess) {
  Candidate candidate = person();
  candidate.now.minutes = 60;
  const Dose usual = model().find_event("MDL")->dose;
  EXPECT_NEAR(fit(candidate, "MDL").dose.keep, 0.5 * usual.keep, 1e-12);
  candidate.now.minutes = 600;
  EXPECT_NEAR(fit(candidate, "MDL").dose.keep, usual.keep, 1e-12);
}

// Level = a + b and headroom = c - b of independent a, b, c: level + g headroom = a + (1 - g) b + g c.
TEST(Progress, SpreadsOfLevelAndHeadroomThatGoTogetherAddUpAsInTheirSum) {
  constexpr double kOfA = 0.004, kOfB = 0.003, kOfC = 0.010, kAhead = 0.001;
  EventState state;
  state.var_ahead = kAhead;
  EventState::Node node;
  node.k = 0.1;
  node.var_v0 = kOfA + kOfB;
  node.var_h = kOfC + kOfB;
  node.cov = -kOfB;
  for (const double s : {0.0, 3.0, 10.0, 60.0}) {
    const double g = 1.0 - std::exp(-node.k * s);
    EXPECT_NEAR(state.variance_at(node, s), kOfA + (1.0 - g) * (1.0 - g) * kOfB + g * g * kOfC + kAhead,
                1e-12)
        << s;
  }
}

}  // namespace
}  // namespace backplan

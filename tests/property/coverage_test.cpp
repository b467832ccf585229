// How often the truth lies in the interval that the fit gives: invented people with a known response write a
// journal, and the forecast of their ability is held against it. BACKPLAN_PROPERTY_CASES=2000 shows the
// whole.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <map>
#include <string>

#include "backplan/numeric.hpp"
#include "backplan/progress.hpp"
#include "property/case_count.hpp"
#include "property/shipped_data.hpp"
#include "support/simulated_history.hpp"

namespace backplan::testing {
namespace {

constexpr int kUsualPeople = 40;
constexpr int kWholePeople = 2000;  // from so many on the limits hold without allowance for chance
constexpr double kSurely = 3.5;     // standard deviations of a share among few people

struct Tally {
  int cases = 0, now = 0, test_day = 0;
  double lean = 0.0;   // sum of truth less forecast, in v
  double error = 0.0;  // sum of its squares
  double width = 0.0;  // sum of the variances foretold
};

// Share of the forecast below the truth, over the nodes.
double below(const EventState& state, double truth, double s, double loss) {
  double sum = 0.0;
  for (const auto& node : state.nodes) {
    const double z = (truth - state.mean_at(node, s, loss)) / std::sqrt(state.variance_at(node, s));
    sum += node.weight * numeric::normal_cdf(z);
  }
  return sum;
}

bool inside(double share) { return share > 0.1 && share < 0.9; }

void count(Tally& tally, EventState state, const TrueEvent& truth) {
  ++tally.cases;
  tally.test_day += inside(below(state, truth.v_test, truth.s_ahead, truth.loss_ahead)) ? 1 : 0;
  const double off = truth.v_test - state.mean(truth.s_ahead, truth.loss_ahead);
  tally.lean += off;
  tally.error += off * off;
  for (const auto& node : state.nodes) tally.width += node.weight * state.variance_at(node, truth.s_ahead);
  state.var_ahead = 0.0;
  tally.now += inside(below(state, truth.v_now, 0.0, 0.0)) ? 1 : 0;
}

void print(const std::string& name, const std::string& event, const Tally& tally) {
  const auto percent = [&tally](int hits) { return 100.0 * hits / tally.cases; };
  const std::string line = fmt::format(
      "{:<20} {:<4} {:>6}  now {:5.1f} %  test day {:5.1f} %  off by {:.3f} (mean {:+.3f}), foretold "
      "{:.3f}\n",
      name, event, tally.cases, percent(tally.now), percent(tally.test_day),
      std::sqrt(tally.error / tally.cases), tally.lean / tally.cases, std::sqrt(tally.width / tally.cases));
  static_cast<void>(std::fputs(line.c_str(), stdout));
}

Tally cover(Response response, const std::string& name) {
  const Standard& standard = shipped_standard("us-army-aft");
  std::map<std::string, Tally> by_event;
  Tally all;
  for (int seed = 1; seed <= property_cases(kUsualPeople); ++seed) {
    const SimulatedPerson person =
        simulate(static_cast<std::uint64_t>(seed), response, standard, shipped_model());
    const auto states =
        fit_progress(person.candidate, standard, shipped_model(), person.as_of, person.history);
    for (std::size_t e = 0; e < states.size(); ++e) {
      count(by_event[standard.events[e].id], states[e], person.truth[e]);
      count(all, states[e], person.truth[e]);
    }
  }
  by_event["all"] = all;
  for (const auto& [event, tally] : by_event) print(name, event, tally);
  return all;
}

void expect_share(int hits, int cases, double least, double most) {
  const double share = static_cast<double>(hits) / cases;
  const double chance =
      property_cases(kUsualPeople) >= kWholePeople ? 0.0 : kSurely * std::sqrt(0.16 / cases);
  EXPECT_GE(share, least - chance);
  EXPECT_LE(share, most + chance);
}

TEST(Coverage, EightInTenLieInTheIntervalWhereTheResponseIsAsAssumed) {
  const Tally tally = cover(Response::as_assumed, "as assumed");
  expect_share(tally.test_day, tally.cases, 0.78, 0.82);
  expect_share(tally.now, tally.cases, 0.77, 0.84);
}

TEST(Coverage, ThreeInFourLieInTheIntervalWhereTheResponseIsLogarithmic) {
  const Tally tally = cover(Response::logarithmic, "logarithmic");
  expect_share(tally.test_day, tally.cases, 0.75, 1.0);
}

TEST(Coverage, ThreeInFourLieInTheIntervalWhereFitnessAndFatigueFade) {
  const Tally tally = cover(Response::fitness_and_fatigue, "fitness and fatigue");
  expect_share(tally.test_day, tally.cases, 0.75, 1.0);
}

}  // namespace
}  // namespace backplan::testing

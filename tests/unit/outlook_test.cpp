// The forecast against sums and simulations that are made another way.
#include "backplan/outlook.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "backplan/evidence.hpp"
#include "property/shipped_data.hpp"
#include "support/random_candidates.hpp"
#include "support/random_source.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using testing::RandomSource;

const Date kToday = test::day(2026, 11, 2);
constexpr int kDraws = 200000;
// Of a share found by simulation: one test in a hundred thousand fails by chance.
constexpr double kDeviations = 4.4;

const Model& model() { return testing::shipped_model(); }

double cdf(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

struct Situation {
  Standard standard;
  Candidate candidate;
  std::vector<EventState> states;
  Dosage dosage;
};

// By pointer inside `states`: the situation must stay where it is.
void prepare(Situation& situation, int seed, const std::string& id) {
  RandomSource random(static_cast<std::uint64_t>(seed));
  situation.standard = test::shipped_standard(id);
  testing::CandidateKnobs knobs;
  knobs.minutes_a_week = 180;
  knobs.weeks_to_test = 12;
  situation.candidate = testing::random_candidate(random, situation.standard, kToday, knobs);
  situation.states = fit_progress(situation.candidate, situation.standard, model(), kToday);
  for (std::size_t e = 0; e < situation.states.size(); ++e) {
    situation.dosage.s.push_back(random.real(0.0, 12.0));
    situation.dosage.loss.push_back(random.real(0.0, 0.03));
  }
}

Outlook forecast_of(const Situation& situation) {
  return forecast(situation.states, situation.candidate, situation.standard, model(), situation.dosage);
}

// Above the lowest row a sum over the rows, below it Simpson's rule on the straight line.
double brute_points(const Scale& scale, double mean, double sd) {
  std::vector<double> v;
  for (const Row& row : scale.rows()) v.push_back(ability_of(std::max(row.result, 1e-3), scale.direction()));
  const auto& rows = scale.rows();
  double sum = 0.0;
  for (std::size_t i = 0; i < v.size(); ++i) {
    const double over = i + 1 < v.size() ? cdf((v[i + 1] - mean) / sd) : 1.0;
    sum += rows[i].points.value() * (over - cdf((v[i] - mean) / sd));
  }
  const double slope = (rows.back().points.value() - rows.front().points.value()) / (v.back() - v.front());
  const double from = std::min(v.front(), mean) - 12.0 * sd;
  constexpr int kSteps = 4000;
  const double step = (v.front() - from) / kSteps;
  for (int i = 0; i <= kSteps; ++i) {
    const double x = from + i * step;
    const double z = (x - mean) / sd;
    const double density = std::exp(-0.5 * z * z) / (sd * std::sqrt(2.0 * std::acos(-1.0)));
    const double points = rows.front().points.value() + slope * (x - v.front());
    const double share = i == 0 || i == kSteps ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
    sum += share * step / 3.0 * density * points;
  }
  return sum;
}

TEST(Outlook, ExpectedPointsAreTheSumOverTheRows) {
  const Standard standard = test::shipped_standard("us-army-aft");
  RandomSource random(7);
  for (const auto& [key, scale] : standard.scales) {
    const AbilityScale ability(scale, Points::whole(60));
    for (int i = 0; i < 8; ++i) {
      const double low = ability.thresholds().front();
      const double width = ability.thresholds().back() - low;
      const double mean = random.real(low - width, low + 1.5 * width);
      const double sd = random.real(0.015, 0.3);
      ASSERT_NEAR(ability.expected_points(mean, sd), brute_points(scale, mean, sd), 1e-6)
          << key.event << " " << key.column << " " << to_string(key.band) << " mean " << mean << " sd " << sd;
    }
  }
}

TEST(Outlook, ExpectedPointsRiseWithAbility) {
  const Standard standard = test::shipped_standard("us-army-acft-2022");
  for (const auto& [key, scale] : standard.scales) {
    const AbilityScale ability(scale, Points::whole(60));
    const double low = ability.thresholds().front();
    const double width = ability.thresholds().back() - low;
    for (const double sd : {0.02, 0.07, 0.3}) {
      double before = -1e9;
      double risk = 1.0;
      for (int hundredths = -100; hundredths < 150; ++hundredths) {
        const double mean = low + width * hundredths / 100.0;
        const double here = ability.expected_points(mean, sd);
        ASSERT_GE(here, before - 1e-9) << key.event << " " << mean;
        ASSERT_LE(ability.p_below_minimum(mean, sd), risk + 1e-12) << key.event << " " << mean;
        before = here;
        risk = ability.p_below_minimum(mean, sd);
      }
    }
  }
}

struct Counted {
  int on_scale = 0, pass = 0, target = 0;
  std::vector<int> minimum;
  std::vector<double> totals;  // in points, of days on which every event is on the scale
};

std::size_t pick(RandomSource& random, const std::vector<double>& weights) {
  double left = random.real();
  for (std::size_t i = 0; i < weights.size(); ++i) {
    left -= weights[i];
    if (left < 0.0) return i;
  }
  return weights.size() - 1;
}

// Zeros of the Hermite polynomial of degree five: z^2 = 5 +- sqrt 10, and 0; weights of the rule.
double common_node(RandomSource& random) {
  const double near = std::sqrt(5.0 - std::sqrt(10.0));
  const double far = std::sqrt(5.0 + std::sqrt(10.0));
  const double w_near = (7.0 + 2.0 * std::sqrt(10.0)) / 60.0;
  const double w_far = (7.0 - 2.0 * std::sqrt(10.0)) / 60.0;
  const std::array<double, 5> z{-far, -near, 0.0, near, far};
  return z[pick(random, {w_far, w_near, 8.0 / 15.0, w_near, w_far})];
}

// One node of one event, ready to draw from.
struct Draw {
  double mean = 0.0;
  double sd = 0.0;
};

struct EventDraws {
  std::vector<double> weights;
  std::vector<Draw> nodes;
  std::vector<double> thresholds;  // ascending
};

std::vector<EventDraws> draws_of(const Situation& situation) {
  std::vector<EventDraws> out;
  for (std::size_t e = 0; e < situation.states.size(); ++e) {
    const EventState& state = situation.states[e];
    EventDraws draws;
    for (const auto& node : state.nodes) {
      const double growth = 1.0 - std::exp(-node.k * situation.dosage.s[e]);
      const double mean = node.v0 + node.h * growth - situation.dosage.loss[e] - state.fixed_loss;
      const double noise = noise_of(*state.model, result_of(mean, state.event->direction));
      const double variance = node.var_v0 + 2.0 * growth * node.cov + growth * growth * node.var_h;
      draws.weights.push_back(node.weight);
      draws.nodes.push_back({mean, std::sqrt(variance + noise * noise)});
    }
    for (const Row& row : state.scale->rows()) {
      draws.thresholds.push_back(ability_of(std::max(row.result, 1e-3), state.scale->direction()));
    }
    out.push_back(std::move(draws));
  }
  return out;
}

// A test day: points by event; none below the scale.
std::vector<std::optional<Points>> draw_day(RandomSource& random, const Situation& situation,
                                            const std::vector<EventDraws>& events, double z) {
  std::vector<std::optional<Points>> day;
  const double share = model().common.variance_share;
  for (std::size_t e = 0; e < events.size(); ++e) {
    const Draw& node = events[e].nodes[pick(random, events[e].weights)];
    const double v = node.mean + node.sd * (std::sqrt(share) * z + std::sqrt(1.0 - share) * random.normal());
    const auto& thresholds = events[e].thresholds;
    const auto reached = std::upper_bound(thresholds.begin(), thresholds.end(), v) - thresholds.begin();
    day.emplace_back();
    if (reached > 0)
      day.back() = situation.states[e].scale->rows()[static_cast<std::size_t>(reached - 1)].points;
  }
  return day;
}

bool all_reach(const std::vector<std::optional<Points>>& day, const std::vector<Points>& floors) {
  for (std::size_t e = 0; e < day.size(); ++e) {
    if (!day[e] || *day[e] < floors[e]) return false;
  }
  return true;
}

Counted simulate(const Situation& situation, bool by_nodes) {
  RandomSource random(99);
  const Category& category = *situation.standard.find_category(situation.candidate.category);
  const Target& target = situation.candidate.target;
  std::vector<Points> pass;
  std::vector<Points> wanted;
  for (const EventState& state : situation.states) {
    pass.push_back(category.each_minimum.value_or(state.scale->rows().front().points));
    Points want = std::max(pass.back(), target.each.value_or(pass.back()));
    const auto own = target.events.find(state.event->id);
    if (own != target.events.end()) want = std::max(want, own->second);
    wanted.push_back(want);
  }
  const Points pass_total = category.total_minimum.value_or(Points{});
  const Points wanted_total = std::max(pass_total, target.total.value_or(Points{}));
  Counted counted;
  counted.minimum.assign(situation.states.size(), 0);
  const auto draws = draws_of(situation);
  for (int i = 0; i < kDraws; ++i) {
    const auto day = draw_day(random, situation, draws, by_nodes ? common_node(random) : random.normal());
    Points total;
    bool on_scale = true;
    for (std::size_t e = 0; e < day.size(); ++e) {
      on_scale = on_scale && day[e].has_value();
      total = total + day[e].value_or(Points{});
      counted.minimum[e] += day[e] && *day[e] >= pass[e] ? 1 : 0;
    }
    if (!on_scale) continue;
    ++counted.on_scale;
    counted.totals.push_back(total.value());
    counted.pass += all_reach(day, pass) && total >= pass_total ? 1 : 0;
    counted.target += all_reach(day, wanted) && total >= wanted_total ? 1 : 0;
  }
  return counted;
}

void expect_share(double forecast_share, int count, double slack, const std::string& what) {
  const double found = static_cast<double>(count) / kDraws;
  const double error = std::sqrt(std::max(forecast_share * (1.0 - forecast_share), 1e-5) / kDraws);
  EXPECT_NEAR(forecast_share, found, kDeviations * error + slack) << what;
}

void compare(const Situation& situation, bool by_nodes, double slack, const std::string& who) {
  const Outlook outlook = forecast_of(situation);
  Counted counted = simulate(situation, by_nodes);
  expect_share(outlook.p_on_scale, counted.on_scale, slack, who + ": on the scale");
  expect_share(outlook.p_pass, counted.pass, slack, who + ": pass");
  expect_share(outlook.p_target, counted.target, slack, who + ": target");
  for (std::size_t e = 0; e < situation.states.size(); ++e) {
    expect_share(outlook.events[e].p_minimum, counted.minimum[e], slack,
                 who + ": minimum of " + outlook.events[e].event);
  }
  auto& totals = counted.totals;
  if (totals.size() < 10000) return;  // hardly ever on the scale: the total means little
  std::sort(totals.begin(), totals.end());
  double mean = 0.0;
  double square = 0.0;
  for (const double total : totals) {
    mean += total / static_cast<double>(totals.size());
    square += total * total / static_cast<double>(totals.size());
  }
  const double sd = std::sqrt(square - mean * mean);
  const double n = static_cast<double>(totals.size());
  EXPECT_NEAR(outlook.total.mean, mean, kDeviations * sd / std::sqrt(n) + slack * sd) << who;
  // A tenth of the days stand below `low80` and a tenth above `high80`; totals come in whole points.
  const auto rank = [&](double total) {
    return static_cast<double>(std::lower_bound(totals.begin(), totals.end(), total - 0.05) -
                               totals.begin()) /
           n;
  };
  const double error = kDeviations * std::sqrt(0.09 / n) + slack;
  EXPECT_LE(rank(outlook.total.low80), 0.1 + error) << who;
  EXPECT_GE(rank(outlook.total.low80 + 0.1), 0.1 - error) << who;
  EXPECT_LE(rank(outlook.total.high80), 0.9 + error) << who;
  EXPECT_GE(rank(outlook.total.high80 + 0.1), 0.9 - error) << who;
}

TEST(Outlook, IsWhatASimulationWithTheSameNodesFinds) {
  for (int seed = 1; seed <= 6; ++seed) {
    Situation situation;
    prepare(situation, seed, seed % 2 == 0 ? "us-army-aft" : "us-army-acft-2022");
    compare(situation, true, 0.0, "seed " + std::to_string(seed));
  }
}

// Five nodes of the common factor stand for a normal variable: what that costs stays under one in a hundred.
TEST(Outlook, IsWhatASimulationWithAFreeCommonFactorFindsWithinOneInAHundred) {
  for (int seed = 11; seed <= 14; ++seed) {
    Situation situation;
    prepare(situation, seed, seed % 2 == 0 ? "us-army-aft" : "us-army-acft-2022");
    compare(situation, false, 0.01, "seed " + std::to_string(seed));
  }
}

TEST(Outlook, NobodyPassesMoreOftenThanTheWeakestEventAllows) {
  for (int seed = 1; seed <= 60; ++seed) {
    Situation situation;
    prepare(situation, seed, seed % 2 == 0 ? "us-army-aft" : "us-army-acft-2022");
    const Outlook outlook = forecast_of(situation);
    EXPECT_LE(outlook.p_target, outlook.p_pass + 1e-12) << "seed " << seed;
    EXPECT_LE(outlook.p_pass, outlook.p_on_scale + 1e-12) << "seed " << seed;
    EXPECT_LE(outlook.p_on_scale, 1.0 + 1e-12) << "seed " << seed;
    EXPECT_LE(outlook.total.low80, outlook.total.high80) << "seed " << seed;
    for (const EventOutlook& event : outlook.events) {
      EXPECT_LE(outlook.p_pass, event.p_minimum + 1e-12) << "seed " << seed << " " << event.event;
      EXPECT_LE(event.p_own_target, event.p_minimum + 1e-12) << "seed " << seed << " " << event.event;
    }
  }
}

TEST(Outlook, LessLossNeverLowersPointsOrChances) {
  for (int seed = 1; seed <= 40; ++seed) {
    Situation situation;
    prepare(situation, seed, seed % 2 == 0 ? "us-army-aft" : "us-army-acft-2022");
    const Outlook before = forecast_of(situation);
    for (std::size_t e = 0; e < situation.states.size(); ++e) {
      const double loss = situation.dosage.loss[e];
      situation.dosage.loss[e] = 0.5 * loss;
      const Outlook after = forecast_of(situation);
      situation.dosage.loss[e] = loss;
      EXPECT_GE(after.events[e].expected_points, before.events[e].expected_points - 1e-9) << "seed " << seed;
      EXPECT_GE(after.events[e].p_minimum, before.events[e].p_minimum - 1e-9) << "seed " << seed;
      EXPECT_GE(after.p_on_scale, before.p_on_scale - 1e-9) << "seed " << seed;
      EXPECT_GE(after.p_pass, before.p_pass - 1e-9) << "seed " << seed;
      EXPECT_GE(after.p_target, before.p_target - 1e-9) << "seed " << seed;
    }
  }
}

// What a gap in the calendar will cost is lost like any other loss.
TEST(Outlook, IsTheSameWhetherALossIsFixedOrPlanned) {
  constexpr double kLost = 0.02;
  for (int seed = 1; seed <= 10; ++seed) {
    Situation situation;
    prepare(situation, seed, seed % 2 == 0 ? "us-army-aft" : "us-army-acft-2022");
    for (double& loss : situation.dosage.loss) loss += kLost;
    const Outlook planned = forecast_of(situation);
    for (double& loss : situation.dosage.loss) loss -= kLost;
    for (EventState& state : situation.states) state.fixed_loss += kLost;
    const Outlook fixed = forecast_of(situation);
    EXPECT_NEAR(fixed.total.mean, planned.total.mean, 1e-9) << "seed " << seed;
    EXPECT_NEAR(fixed.p_on_scale, planned.p_on_scale, 1e-9) << "seed " << seed;
    for (std::size_t e = 0; e < situation.states.size(); ++e)
      EXPECT_NEAR(fixed.events[e].expected_points, planned.events[e].expected_points, 1e-9)
          << "seed " << seed;
  }
}

// What more work adds it also makes less certain; that may cost a hair where the mean hardly moves.
TEST(Outlook, MoreWorkNeverLowersTheExpectedPointsByMoreThanAHair) {
  constexpr double kHair = 0.05;  // points
  for (int seed = 1; seed <= 40; ++seed) {
    Situation situation;
    prepare(situation, seed, seed % 2 == 0 ? "us-army-aft" : "us-army-acft-2022");
    const Outlook before = forecast_of(situation);
    for (double& s : situation.dosage.s) s += 1.0;
    const Outlook after = forecast_of(situation);
    for (std::size_t e = 0; e < situation.states.size(); ++e) {
      EXPECT_GE(after.events[e].expected_points, before.events[e].expected_points - kHair)
          << "seed " << seed << " " << after.events[e].event;
    }
  }
}

// The quick way to a chance, where the minimums together hold the total, and the long one are the same.
TEST(DayFigures, AreThoseOfTheForecast) {
  for (int seed = 1; seed <= 40; ++seed) {
    Situation situation;
    prepare(situation, seed, seed % 2 == 0 ? "us-army-aft" : "us-army-acft-2022");
    const Outlook outlook = forecast_of(situation);
    const DayFigures figures(situation.states, situation.candidate, situation.standard, model());
    EXPECT_NEAR(figures.chance_of_passing(situation.dosage), outlook.p_pass, 1e-12) << "seed " << seed;
    EXPECT_NEAR(figures.chance_of_target(situation.dosage), outlook.p_target, 1e-12) << "seed " << seed;
    double points = 0.0;
    for (const EventOutlook& event : outlook.events) points += event.expected_points;
    EXPECT_NEAR(figures.expected_total(situation.dosage), points, 1e-9) << "seed " << seed;
  }
}

TEST(Outlook, TheTotalWithinReachIsReachedAsOftenAsAsked) {
  for (int seed = 1; seed <= 20; ++seed) {
    Situation situation;
    prepare(situation, seed, "us-army-aft");
    situation.candidate.target = {};
    for (const double confidence : {0.5, 0.8}) {
      const double total = total_within_reach(situation.states, situation.candidate, situation.standard,
                                              model(), situation.dosage, confidence);
      if (total <= 0.0) continue;
      situation.candidate.target.total =
          Points::from_tenths(static_cast<int>(std::floor(total * 10.0 + 0.5)));
      EXPECT_GE(forecast_of(situation).p_target, confidence - 1e-9) << "seed " << seed;
      situation.candidate.target.total = *situation.candidate.target.total + Points::from_tenths(1);
      EXPECT_LT(forecast_of(situation).p_target, confidence + 1e-9) << "seed " << seed;
    }
  }
}

}  // namespace
}  // namespace backplan

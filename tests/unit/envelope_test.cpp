// The peak of an event's value at given prices, against a look at every node.
#include "core/envelope.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "backplan/progress.hpp"
#include "io/readers.hpp"
#include "support/random_candidates.hpp"
#include "support/random_source.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using testing::RandomSource;

const Date kToday = test::day(2026, 11, 2);
constexpr double kSame = 1e-9;  // points: rounding

double highest_of_all(const EventValue& value, Envelope::Span s, Envelope::Span loss, double price_s,
                      double price_loss) {
  double best = -1e300;
  for (int i = s.low; i <= s.high; ++i) {
    for (int j = loss.low; j <= loss.high; ++j)
      best = std::max(best, value.node(i, j) - price_s * value.s_of(i) + price_loss * value.loss_of(j));
  }
  return best;
}

void compare(RandomSource& random, const EventValue& value) {
  const auto span = [&](int nodes) {
    const int low = random.integer(0, nodes - 1);
    return Envelope::Span{low, random.integer(low, nodes - 1)};
  };
  const bool whole = random.chance(0.5);
  const Envelope::Span s = whole ? Envelope::Span{0, value.s_nodes() - 1} : span(value.s_nodes());
  const Envelope::Span loss = whole ? Envelope::Span{0, value.loss_nodes() - 1} : span(value.loss_nodes());
  const double price_s = random.chance(0.1) ? 0.0 : random.real(0.0, 6.0);
  const double price_loss = random.chance(0.1) ? 0.0 : random.real(0.0, 400.0);
  const Envelope::Peak peak = Envelope(value, s, loss).peak(price_s, price_loss);
  EXPECT_NEAR(peak.worth, highest_of_all(value, s, loss, price_s, price_loss), kSame);
  EXPECT_GE(peak.at_s, s.low);
  EXPECT_LE(peak.at_s, s.high);
  EXPECT_GE(peak.at_loss, loss.low);
  EXPECT_LE(peak.at_loss, loss.high);
  const double there = value.node(peak.at_s, peak.at_loss) - price_s * value.s_of(peak.at_s) +
                       price_loss * value.loss_of(peak.at_loss);
  EXPECT_NEAR(there, peak.worth, kSame);
}

TEST(Envelope, HasThePeakOfEveryNodeOfABoxAtAnyPrices) {
  const Standard standard = test::shipped_standard("us-army-aft");
  const Model model = io::read_model(io::embedded_data()).value();
  for (std::uint64_t seed = 1; seed <= 25; ++seed) {
    RandomSource random(seed);
    testing::CandidateKnobs knobs;
    knobs.plain = true;
    const Candidate candidate = testing::random_candidate(random, standard, kToday, knobs);
    const Category& category = *standard.find_category(candidate.category);
    for (const EventState& state : fit_progress(candidate, standard, model, kToday)) {
      const AbilityScale scale(*state.scale, pass_minimum(category));
      const EventValue value(state, scale, 1.0, model.value.below_minimum_cost, 9.0, 0.09);
      for (int n = 0; n < 20; ++n) compare(random, value);
    }
  }
}

}  // namespace
}  // namespace backplan

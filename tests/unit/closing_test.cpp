// The counting at the end of a proof, against every way to give the weeks their columns.
#include "core/closing.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <vector>

#include "backplan/progress.hpp"
#include "io/readers.hpp"
#include "support/random_candidates.hpp"
#include "support/random_source.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using testing::RandomSource;

const Date kToday = test::day(2026, 11, 2);
constexpr int kCases = 60;
constexpr double kSame = 1e-7;
constexpr double kGap = 0.01;
constexpr int kNodes = 20000;
constexpr double kNothingKnown = -1e6;

// A few groups of weeks with a few columns each, valued by one invented person's events.
struct Choice {
  explicit Choice(int seed) : random(static_cast<std::uint64_t>(seed)) {
    testing::CandidateKnobs knobs;
    knobs.plain = true;
    const Candidate candidate = testing::random_candidate(random, standard, kToday, knobs);
    const auto states = fit_progress(candidate, standard, model, kToday);
    const Category& category = *standard.find_category(candidate.category);
    for (const int weeks : {random.integer(1, 5), random.integer(1, 3), 1})
      groups.push_back(group(weeks, states.size()));
    for (const EventState& state : states) {
      const AbilityScale scale(*state.scale, pass_minimum(category));
      values.emplace_back(state, scale, 1.0, model.value.below_minimum_cost, 9.0, 0.09);
      box.low.push_back(0);
      box.high.push_back(values.back().s_nodes() - 1);
      box.prices.s.push_back(random.real(0.0, 3.0));
      box.prices.loss.push_back(random.real(0.0, 200.0));
    }
    for (const EventValue& value : values) {
      box.low.push_back(0);
      box.high.push_back(value.loss_nodes() - 1);
    }
  }

  [[nodiscard]] double value_of(const std::vector<std::vector<int>>& counts) const {
    double sum = 0.0;
    for (std::size_t e = 0; e < values.size(); ++e) {
      double s = 0.0;
      double loss = 0.0;
      for (std::size_t g = 0; g < groups.size(); ++g) {
        for (std::size_t c = 0; c < groups[g].columns.size(); ++c) {
          s += counts[g][c] * groups[g].columns[c].s[e];
          loss += counts[g][c] * groups[g].columns[c].loss[e];
        }
      }
      sum += values[e].at(s, loss);
    }
    return sum;
  }

  // Over every multiset of columns of every group that may be used.
  [[nodiscard]] double best_of_all() const {
    double best = kNothingKnown;
    std::vector<std::vector<int>> counts;
    for (const ClosingGroup& each : groups) counts.emplace_back(each.columns.size(), 0);
    try_all(counts, 0, 0, groups[0].weeks, best);
    return best;
  }

  RandomSource random;
  Standard standard = test::shipped_standard("us-army-aft");
  Model model = io::read_model(io::embedded_data()).value();
  std::vector<ClosingGroup> groups;
  std::vector<EventValue> values;
  ClosingBox box;

 private:
  [[nodiscard]] ClosingGroup group(int weeks, std::size_t events) {
    ClosingGroup made;
    made.weeks = weeks;
    const int columns = random.integer(1, 5);
    for (int c = 0; c < columns; ++c) {
      Column column;
      for (std::size_t e = 0; e < events; ++e) {
        column.s.push_back(random.chance(0.4) ? 0.0 : random.real(0.0, 1.2));
        column.loss.push_back(column.s.back() > 0.0 ? 0.0 : random.real(0.0, 0.01));
      }
      column.sure = c == 0 || random.chance(0.8);
      made.columns.push_back(column);
    }
    return made;
  }

  void try_all(std::vector<std::vector<int>>& counts, std::size_t g, std::size_t c, int left,
               double& best) const {
    if (g == groups.size()) {
      best = std::max(best, value_of(counts));
      return;
    }
    const bool last = c + 1 == groups[g].columns.size();
    for (int n = last ? left : 0; n <= left; ++n) {
      if (n > 0 && !groups[g].columns[c].sure) break;
      counts[g][c] = n;
      if (!last) {
        try_all(counts, g, c + 1, left - n, best);
      } else {
        const int next = g + 1 < groups.size() ? groups[g + 1].weeks : 0;
        try_all(counts, g + 1, 0, next, best);
      }
      counts[g][c] = 0;
    }
  }
};

TEST(Closing, FindsTheBestOfAllWaysAndBoundsIt) {
  for (int seed = 1; seed <= kCases; ++seed) {
    const Choice choice(seed);
    const double best = choice.best_of_all();
    const ClosingResult closed =
        close_gap(choice.values, choice.groups, choice.box, kNothingKnown, kGap, kNodes);
    ASSERT_FALSE(closed.counts.empty()) << "seed " << seed;
    EXPECT_NEAR(closed.value, choice.value_of(closed.counts), kSame) << "seed " << seed;
    EXPECT_LE(closed.value, best + kSame) << "seed " << seed << ": better than the best there is";
    EXPECT_GE(closed.value, best - kGap - kSame) << "seed " << seed;
    EXPECT_GE(closed.bound, best - kSame) << "seed " << seed << ": the bound is not one";
    for (std::size_t g = 0; g < choice.groups.size(); ++g) {
      int weeks = 0;
      for (const int n : closed.counts[g]) weeks += n;
      EXPECT_EQ(weeks, choice.groups[g].weeks) << "seed " << seed;
    }
  }
}

// Few nodes: the bound may be wide, but it stays a bound.
TEST(Closing, BoundsTheBestHoweverEarlyItStops) {
  for (int seed = 1; seed <= kCases; ++seed) {
    const Choice choice(seed);
    const double best = choice.best_of_all();
    for (const int nodes : {0, 1, 3, 10}) {
      const ClosingResult closed =
          close_gap(choice.values, choice.groups, choice.box, kNothingKnown, kGap, nodes);
      EXPECT_GE(closed.bound, best - kSame) << "seed " << seed << ", " << nodes << " nodes";
    }
  }
}

// A column whose placing was given up may fit: it counts in the bound, and is in no season.
TEST(Closing, CountsDoubtfulColumnsInTheBoundOnly) {
  constexpr int kFewNodes = 200;
  for (int seed = 1; seed <= kCases; ++seed) {
    Choice choice(seed);
    const auto set_sure = [&](bool sure) {
      for (ClosingGroup& group : choice.groups) {
        for (std::size_t c = 1; c < group.columns.size(); ++c) group.columns[c].sure = sure;
      }
    };
    set_sure(true);
    const double best = choice.best_of_all();
    set_sure(false);
    const ClosingResult closed =
        close_gap(choice.values, choice.groups, choice.box, kNothingKnown, kGap, kFewNodes);
    EXPECT_GE(closed.bound, best - kSame) << "seed " << seed << ": the bound is not one";
    if (closed.counts.empty()) continue;
    for (std::size_t g = 0; g < choice.groups.size(); ++g)
      EXPECT_EQ(closed.counts[g][0], choice.groups[g].weeks) << "seed " << seed << ": a doubtful column";
  }
}

TEST(Closing, SaysWhenNothingBeatsWhatIsKnown) {
  for (int seed = 1; seed <= kCases; ++seed) {
    const Choice choice(seed);
    const double best = choice.best_of_all();
    const ClosingResult closed = close_gap(choice.values, choice.groups, choice.box, best, kGap, kNodes);
    EXPECT_TRUE(closed.counts.empty()) << "seed " << seed;
    EXPECT_EQ(closed.value, best) << "seed " << seed;
    EXPECT_GE(closed.bound, best) << "seed " << seed;
  }
}

}  // namespace
}  // namespace backplan

// The allocation against full enumeration where two weeks and four kinds of work leave few packs.
#include "core/allocation.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "backplan/progress.hpp"
#include "core/calendar.hpp"
#include "io/readers.hpp"
#include "support/random_candidates.hpp"
#include "support/random_source.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using testing::RandomSource;

const Date kToday = test::day(2026, 11, 2);  // a Monday
constexpr int kCases = 8;
constexpr double kSame = 1e-9;
constexpr double kSearchSlack = 0.02;  // points that the search may leave: its own stopping gap
constexpr double kAgreedGap = 0.1;
constexpr double kQuickLoss = 0.5;  // points that may be left where nothing is proven

Model four_kinds() {
  Model model = io::read_model(io::embedded_data()).value();
  const std::vector<std::string> kept = {"deadlift", "push_up", "trunk", "intervals"};
  model.work.erase(std::remove_if(model.work.begin(), model.work.end(),
                                  [&](const WorkKind& kind) {
                                    return std::find(kept.begin(), kept.end(), kind.id) == kept.end();
                                  }),
                   model.work.end());
  return model;
}

// Two weeks of one invented person. Holds pointers into itself: stays where it is.
struct Fortnight {
  explicit Fortnight(int seed) {
    RandomSource random(static_cast<std::uint64_t>(seed));
    testing::CandidateKnobs knobs;
    knobs.plain = true;
    knobs.weeks_to_test = 4;
    knobs.minutes_a_week = random.integer(9, 20) * 10;
    candidate = testing::random_candidate(random, standard, kToday, knobs);
    candidate.home_blocks = random.integer(0, 1);
    states = fit_progress(candidate, standard, model, kToday);
    calendar = std::make_unique<Calendar>(candidate, Knowledge{standard, model, rules}, kToday);
    tables = std::make_unique<DoseTables>(states);
    for (int week = 0; week < 2; ++week) task.weeks.push_back(segment(random, week));
    task.as_deload = task.weeks;
    task.is_deload = {false, false};
    set_values();
  }
  Fortnight(const Fortnight&) = delete;
  Fortnight& operator=(const Fortnight&) = delete;

  [[nodiscard]] PackSearch search() const { return {*calendar, states, *tables, candidate.home_blocks}; }

  // What F stands for at S and L: E[points] less the cost of missing the minimum.
  [[nodiscard]] double expected_value(std::size_t e, double s, double loss) const {
    const AbilityScale scale(*states[e].scale, pass_minimum(*standard.find_category(candidate.category)));
    double sum = 0.0;
    for (const auto& node : states[e].nodes) {
      const double mean = states[e].mean_at(node, s, loss);
      const double sd = test_day_sd(states[e], node, s, mean);
      sum += node.weight * (scale.expected_points(mean, sd) -
                            model.value.below_minimum_cost * scale.p_below_minimum(mean, sd));
    }
    return sum;
  }

  Standard standard = test::shipped_standard("us-army-aft");
  Model model = four_kinds();
  Rules rules = io::read_rules(io::embedded_data()).value();
  Candidate candidate;
  std::vector<EventState> states;
  std::unique_ptr<Calendar> calendar;
  std::unique_ptr<DoseTables> tables;
  AllocationTask task;
  std::vector<EventValue> values;

 private:
  [[nodiscard]] Segment segment(RandomSource& random, int week) const {
    Segment made;
    made.week = 4 - week;
    made.first = 7 * week;
    made.count = 7;
    made.counted.assign(states.size(), 1.0);
    for (const int minutes : candidate.week) made.most_minutes += minutes;
    made.most_minutes += 10 * candidate.home_blocks;
    if (week == 1 && random.chance(0.5)) made.most_minutes = made.most_minutes * 2 / 3;
    made.most_hard = random.integer(1, 3);
    made.most_training_days = 6;
    made.most_intervals = random.integer(1, 2);
    made.fixed.assign(calendar->kinds().size(), 0.0);
    if (random.chance(0.3)) made.fixed.back() = 0.5;
    made.signature = std::to_string(week);
    return made;
  }

  void set_values() {
    const Category& category = *standard.find_category(candidate.category);
    for (std::size_t e = 0; e < states.size(); ++e) {
      const AbilityScale scale(*states[e].scale, pass_minimum(category));
      const double most_s = 2.0 * tables->gain(e, 1e3);
      const double most_loss = 2.0 * tables->loss(e, 0.0);
      values.emplace_back(states[e], scale, 1.0, model.value.below_minimum_cost, most_s, most_loss);
    }
  }
};

// Every way to do a kind in a week.
std::vector<KindCount> counts_of(const WorkKind& kind, int home_blocks) {
  std::vector<KindCount> out;
  const int most_home = kind.home ? home_blocks : 0;
  for (int full = 0; full <= kind.most_a_week; ++full) {
    for (int shorter = 0; full + shorter <= kind.most_a_week; ++shorter) {
      for (int home = 0; home <= most_home; ++home) {
        out.push_back({static_cast<std::uint8_t>(full), static_cast<std::uint8_t>(shorter),
                       static_cast<std::uint8_t>(home)});
      }
    }
  }
  return out;
}

bool within_limits(const Pack& pack, const Fortnight& fortnight, const Segment& segment) {
  int home = 0;
  int intervals = 0;
  for (std::size_t k = 0; k < fortnight.calendar->kinds().size(); ++k) {
    home += pack.kinds[k].home;
    if (fortnight.calendar->kinds()[k]->family == "intervals")
      intervals += pack.kinds[k].full + pack.kinds[k].shorter;
  }
  return home <= fortnight.candidate.home_blocks && intervals <= segment.most_intervals &&
         fortnight.calendar->hard_blocks(pack) <= segment.most_hard;
}

// All packs that the week's days can hold.
std::vector<Column> all_columns(const Fortnight& fortnight, const Segment& segment) {
  const PackSearch search = fortnight.search();
  std::vector<Pack> packs{Pack{}};
  for (std::size_t k = 0; k < fortnight.calendar->kinds().size(); ++k) {
    std::vector<Pack> more;
    for (const Pack& pack : packs) {
      for (const KindCount& count :
           counts_of(*fortnight.calendar->kinds()[k], fortnight.candidate.home_blocks)) {
        Pack with = pack;
        with.kinds[k] = count;
        if (within_limits(with, fortnight, segment)) more.push_back(with);
      }
    }
    packs = std::move(more);
  }
  std::vector<Column> columns;
  for (const Pack& pack : packs) {
    const Placement placement = fortnight.calendar->place(pack, request_for(segment));
    EXPECT_NE(placement.outcome, Placing::unknown) << "a small week must be settled";
    if (placement.outcome == Placing::done)
      columns.push_back(search.column_of(pack, segment, placement.minutes));
  }
  return columns;
}

double value_of(const Fortnight& fortnight, const Column& first, const Column& second) {
  double sum = 0.0;
  for (std::size_t e = 0; e < fortnight.values.size(); ++e) {
    sum += fortnight.values[e].at(first.s[e] + second.s[e], first.loss[e] + second.loss[e]);
  }
  return sum;
}

double best_of_all(const Fortnight& fortnight, const std::vector<Column>& first,
                   const std::vector<Column>& second) {
  double best = -1e300;
  for (const Column& a : first) {
    for (const Column& b : second) best = std::max(best, value_of(fortnight, a, b));
  }
  return best;
}

double best_of_all(const Fortnight& fortnight) {
  return best_of_all(fortnight, all_columns(fortnight, fortnight.task.weeks[0]),
                     all_columns(fortnight, fortnight.task.weeks[1]));
}

Prices random_prices(RandomSource& random, std::size_t events) {
  Prices prices;
  for (std::size_t e = 0; e < events; ++e) {
    prices.s.push_back(random.chance(0.2) ? 0.0 : random.real(0.0, 4.0));
    prices.loss.push_back(random.chance(0.2) ? 0.0 : random.real(0.0, 200.0));
  }
  return prices;
}

TEST(Allocation, ReachesTheBestOfAllPairsOfPacksAndProvesIt) {
  const AllocationEffort effort{.prove = true, .rounds = 14, .nodes = 80, .counting_nodes = 500, .gap = 0.02};
  for (int seed = 1; seed <= kCases; ++seed) {
    const Fortnight fortnight(seed);
    const auto first = all_columns(fortnight, fortnight.task.weeks[0]);
    const auto second = all_columns(fortnight, fortnight.task.weeks[1]);
    ASSERT_GT(first.size(), 10U) << "seed " << seed << ": nothing to choose from";
    const double best = best_of_all(fortnight, first, second);
    PackSearch search = fortnight.search();
    const Allocation found = allocate(fortnight.task, fortnight.values, search, effort);
    ASSERT_EQ(found.columns.size(), 2U);
    EXPECT_NEAR(found.value, value_of(fortnight, found.columns[0], found.columns[1]), kSame)
        << "seed " << seed;
    EXPECT_LE(found.value, best + kSame) << "seed " << seed << ": better than the best there is";
    EXPECT_GE(found.value, best - kSearchSlack) << "seed " << seed;
    EXPECT_GE(found.bound, best - kSame) << "seed " << seed << ": the bound is not one";
    EXPECT_LT(found.bound - found.value, kAgreedGap) << "seed " << seed;
  }
}

// Without any branching, and with the first prices only, all that they leave open is counted out.
TEST(Allocation, ReachesTheBestAndProvesItByCountingAlone) {
  constexpr double kNarrow = 1e-3;
  const AllocationEffort effort{
      .prove = true, .rounds = 1, .nodes = 0, .counting_nodes = 20000, .gap = kNarrow};
  for (int seed = 1; seed <= kCases; ++seed) {
    const Fortnight fortnight(seed);
    const double best = best_of_all(fortnight);
    PackSearch search = fortnight.search();
    const Allocation found = allocate(fortnight.task, fortnight.values, search, effort);
    EXPECT_LE(found.value, best + kSame) << "seed " << seed << ": better than the best there is";
    EXPECT_GE(found.value, best - kNarrow - kSame) << "seed " << seed;
    EXPECT_GE(found.bound, best - kSame) << "seed " << seed << ": the bound is not one";
    EXPECT_LT(found.bound - found.value, 2.0 * kNarrow) << "seed " << seed;
  }
}

// With the first prices only, no branching and nothing counted out, some of these seasons stay open: the
// bound says so and does not close by itself.
TEST(Allocation, SaysWhatAProofThatStopsEarlyLeavesOpen) {
  constexpr double kGap = 0.02;
  const AllocationEffort effort{.prove = true, .rounds = 1, .nodes = 0, .counting_nodes = 0, .gap = kGap};
  double open = 0.0;
  for (int seed = 1; seed <= kCases; ++seed) {
    const Fortnight fortnight(seed);
    const double best = best_of_all(fortnight);
    PackSearch search = fortnight.search();
    const Allocation found = allocate(fortnight.task, fortnight.values, search, effort);
    EXPECT_GE(found.bound, best - kSame) << "seed " << seed << ": the bound is not one";
    open = std::max(open, found.bound - best);
  }
  EXPECT_GT(open, kGap);
}

TEST(Allocation, WithoutAProofItClaimsNoBoundAndStaysNearTheBest) {
  const AllocationEffort effort{.prove = false, .rounds = 6, .nodes = 0, .counting_nodes = 0, .gap = 0.05};
  for (int seed = 1; seed <= kCases; ++seed) {
    const Fortnight fortnight(seed);
    const double best = best_of_all(fortnight);
    PackSearch search = fortnight.search();
    const Allocation found = allocate(fortnight.task, fortnight.values, search, effort);
    EXPECT_LE(found.value, best + kSame) << "seed " << seed;
    EXPECT_EQ(found.bound, std::numeric_limits<double>::infinity()) << "seed " << seed;
    EXPECT_GE(found.value, best - kQuickLoss) << "seed " << seed;
  }
}

// The second week is a deload: it takes a pack of half the minutes, and the bound is of such plans.
TEST(Allocation, FillsADeloadUnderItsOwnLimits) {
  const AllocationEffort effort{.prove = true, .rounds = 14, .nodes = 80, .counting_nodes = 500, .gap = 0.02};
  for (int seed = 1; seed <= kCases; ++seed) {
    Fortnight fortnight(seed);
    AllocationTask& task = fortnight.task;
    for (std::size_t week = 0; week < 2; ++week) {
      task.as_deload[week].most_minutes /= 2;
      task.as_deload[week].signature += " deload";
    }
    task.is_deload = {false, true};
    const auto first = all_columns(fortnight, task.weeks[0]);
    const auto second_deload = all_columns(fortnight, task.as_deload[1]);
    const double planned = best_of_all(fortnight, first, second_deload);
    PackSearch search = fortnight.search();
    const Allocation found = allocate(task, fortnight.values, search, effort);
    EXPECT_LE(found.value, planned + kSame) << "seed " << seed;
    EXPECT_GE(found.value, planned - kSearchSlack) << "seed " << seed;
    EXPECT_GE(found.bound, planned - kSame) << "seed " << seed;
    EXPECT_LE(found.columns[1].minutes, task.as_deload[1].most_minutes) << "seed " << seed;
  }
}

TEST(PackSearch, FindsTheBestOfAllPacksAtAnyPrices) {
  constexpr int kPrices = 25;
  for (int seed = 1; seed <= kCases; ++seed) {
    const Fortnight fortnight(seed);
    const Segment& segment = fortnight.task.weeks[0];
    const auto columns = all_columns(fortnight, segment);
    PackSearch search = fortnight.search();
    RandomSource random(static_cast<std::uint64_t>(1000 + seed));
    for (int i = 0; i < kPrices; ++i) {
      const Prices prices = random_prices(random, fortnight.states.size());
      double best = -1e300;
      for (const Column& column : columns) best = std::max(best, search.worth(column, prices));
      const Column remembered = search.best(segment, prices, i % 2 == 0);
      EXPECT_NEAR(search.worth(remembered, prices), best, kSame) << "seed " << seed << " prices " << i;
      PackSearch fresh = fortnight.search();
      EXPECT_NEAR(fresh.worth(fresh.best(segment, prices, true), prices), best, kSame)
          << "seed " << seed << " prices " << i << ", without what was found before";
    }
  }
}

// One event alone: the search must not lose the one kind of work that serves it.
Prices only_one(const Prices& prices, std::size_t event) {
  Prices out;
  out.s.assign(prices.s.size(), 0.0);
  out.loss = out.s;
  out.s[event] = 1.0 + prices.s[event];
  out.loss[event] = prices.loss[event];
  return out;
}

// What the counting at the end of a proof rests on.
TEST(PackSearch, ListsEveryPackAboveAWorthAndNoOther) {
  constexpr std::size_t kPrices = 10;
  constexpr std::size_t kNoLimit = 1000000;
  for (int seed = 1; seed <= kCases; ++seed) {
    const Fortnight fortnight(seed);
    const Segment& segment = fortnight.task.weeks[0];
    const auto columns = all_columns(fortnight, segment);
    PackSearch search = fortnight.search();
    RandomSource random(static_cast<std::uint64_t>(2000 + seed));
    for (std::size_t i = 0; i < kPrices; ++i) {
      Prices prices = random_prices(random, fortnight.states.size());
      if (i < fortnight.states.size()) prices = only_one(prices, i);
      const double least = search.worth(random.choice(columns), prices);
      std::vector<Pack> expected;
      for (const Column& column : columns) {
        if (search.worth(column, prices) > least + kSame) expected.push_back(column.pack);
      }
      std::vector<Pack> listed;
      for (const Column& column : search.all_above(segment, prices, least + kSame, kNoLimit))
        listed.push_back(column.pack);
      std::sort(expected.begin(), expected.end());
      std::sort(listed.begin(), listed.end());
      EXPECT_TRUE(listed == expected) << "seed " << seed << " prices " << i << ": " << listed.size()
                                      << " listed, " << expected.size() << " there are";
    }
  }
}

TEST(EventValue, RisesWithWorkAndFallsWithLossAndMeetsItsNodes) {
  const Fortnight fortnight(3);
  for (const EventValue& value : fortnight.values) {
    for (int i = 0; i < value.s_nodes(); ++i) {
      for (int j = 0; j < value.loss_nodes(); ++j) {
        EXPECT_NEAR(value.at(value.s_of(i), value.loss_of(j)), value.node(i, j), kSame);
        EXPECT_GE(value.node(i, j), value.node(std::max(i - 1, 0), j));
        EXPECT_LE(value.node(i, j), value.node(i, std::max(j - 1, 0)) + kSame);
      }
    }
  }
}

// Against the step scale itself, without the table between. A spread that grows with S may dent the sum;
// F then keeps what it had.
TEST(EventValue, IsWhatTheScaleExpectsLessTheCostOfMissingTheMinimum) {
  constexpr double kTable = 0.01;  // points
  for (int seed = 1; seed <= kCases; ++seed) {
    const Fortnight fortnight(seed);
    for (std::size_t e = 0; e < fortnight.values.size(); ++e) {
      const EventValue& value = fortnight.values[e];
      for (int j = 0; j < value.loss_nodes(); ++j) {
        double highest = -1e300;
        for (int i = 0; i < value.s_nodes(); ++i) {
          highest = std::max(highest, fortnight.expected_value(e, value.s_of(i), value.loss_of(j)));
          EXPECT_NEAR(value.node(i, j), highest, kTable) << "seed " << seed << " event " << e;
        }
      }
    }
  }
}

}  // namespace
}  // namespace backplan

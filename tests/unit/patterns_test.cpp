#include "backplan/patterns.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <limits>

#include "support/random_squads.hpp"

namespace backplan {
namespace {

// Whether this choice keeps inside every lane and the number of patterns.
bool allowed(const ChoiceProblem& problem, const std::vector<std::size_t>& pattern_of) {
  std::vector<std::size_t> used = pattern_of;
  std::sort(used.begin(), used.end());
  used.erase(std::unique(used.begin(), used.end()), used.end());
  const std::size_t k =
      std::min({static_cast<std::size_t>(problem.most_patterns), problem.patterns, problem.people});
  if (used.size() > k || (problem.exactly && used.size() != k)) return false;
  for (std::size_t r = 0; r < problem.lanes; ++r) {
    double load = 0.0;
    for (std::size_t i = 0; i < problem.people; ++i) load += problem.use_of(i, pattern_of[i], r);
    if (load > problem.capacity[r] + 1e-9) return false;
  }
  return true;
}

double value_of(const ChoiceProblem& problem, const std::vector<std::size_t>& pattern_of) {
  double sum = 0.0;
  for (std::size_t i = 0; i < problem.people; ++i) sum += problem.value_of(i, pattern_of[i]);
  return sum;
}

// Every assignment of everybody, one after the other.
double counted_out(const ChoiceProblem& problem) {
  double best = -std::numeric_limits<double>::infinity();
  std::vector<std::size_t> pattern_of(problem.people, 0);
  for (;;) {
    if (allowed(problem, pattern_of)) best = std::max(best, value_of(problem, pattern_of));
    std::size_t i = 0;
    while (i < problem.people && ++pattern_of[i] == problem.patterns) pattern_of[i++] = 0;
    if (i == problem.people) return best;
  }
}

TEST(Patterns, AreTheBestOfAllAssignmentsCountedOut) {
  int possible = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    testing::RandomSource random(seed);
    const auto people = static_cast<std::size_t>(random.integer(1, 6));
    const ChoiceProblem problem = testing::random_choice(
        random, people, static_cast<std::size_t>(random.integer(1, 5)), random.integer(1, 3));
    const double best = counted_out(problem);
    const Choice found = choose_patterns(problem);
    ASSERT_EQ(found.possible, best > -1e300) << "seed " << seed;
    if (!found.possible) continue;
    ++possible;
    EXPECT_TRUE(allowed(problem, found.pattern_of)) << "seed " << seed;
    EXPECT_NEAR(found.value, best, 1e-9) << "seed " << seed;
    EXPECT_NEAR(found.value, value_of(problem, found.pattern_of), 1e-9) << "seed " << seed;
    EXPECT_NEAR(found.bound, found.value, 1e-9) << "seed " << seed;
  }
  EXPECT_GT(possible, 20);
}

// Twelve people: too many assignments to count (5^12), but with at most two patterns each pair of patterns
// splits the people in 2^12 ways.
TEST(Patterns, OfTwelvePeopleAreTheBestOfAllSplits) {
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    testing::RandomSource random(seed);
    ChoiceProblem problem = testing::random_choice(random, 12, 5, 2);
    problem.exactly = false;
    double best = -std::numeric_limits<double>::infinity();
    for (std::size_t a = 0; a < 5; ++a) {
      for (std::size_t b = a + 1; b < 5; ++b) {
        for (unsigned split = 0; split < (1U << 12U); ++split) {
          std::vector<std::size_t> pattern_of;
          for (unsigned i = 0; i < 12; ++i) pattern_of.push_back((split >> i & 1U) != 0 ? b : a);
          if (allowed(problem, pattern_of)) best = std::max(best, value_of(problem, pattern_of));
        }
      }
    }
    const Choice found = choose_patterns(problem);
    ASSERT_EQ(found.possible, best > -1e300) << "seed " << seed;
    if (!found.possible) continue;
    EXPECT_NEAR(found.value, best, 1e-9) << "seed " << seed;
  }
}

TEST(Patterns, OfManyPeopleKeepInsideTheLanesAndUnderTheirBound) {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    testing::RandomSource random(seed);
    ChoiceProblem problem = testing::random_choice(random, 120, 24, 5);
    problem.exactly = false;
    for (double& capacity : problem.capacity) capacity = 40.0;
    const Choice found = choose_patterns(problem);
    ASSERT_TRUE(found.possible) << "seed " << seed;
    EXPECT_TRUE(allowed(problem, found.pattern_of)) << "seed " << seed;
    EXPECT_GE(found.bound, found.value) << "seed " << seed;
    EXPECT_NEAR(found.value, value_of(problem, found.pattern_of), 1e-6) << "seed " << seed;
  }
}

TEST(Patterns, AreImpossibleWhereEveryPatternNeedsALaneThatIsNotThere) {
  ChoiceProblem problem;
  problem.people = 2;
  problem.patterns = 1;
  problem.lanes = 1;
  problem.value = {1.0, 1.0};
  problem.use = {1.0};
  problem.capacity = {1.0};
  problem.needs = {1, 1};
  problem.most_patterns = 1;
  EXPECT_FALSE(choose_patterns(problem).possible);
  problem.needs = {1, 0};
  EXPECT_TRUE(choose_patterns(problem).possible);
}

}  // namespace
}  // namespace backplan

// The generators that the property tests stand on: the same seed finds the same case again, and the
// odd situations really come up.
#include "support/random_candidates.hpp"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <map>

#include "support/plain_model.hpp"
#include "support/random_parts.hpp"

namespace backplan::testing {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 11 / 2};

TEST(RandomSource, GivesThePublishedFirstNumbersOfSplitmix64) {
  // First outputs for seed 1234567 as printed with the algorithm's public domain C code.
  RandomSource random(1234567);
  EXPECT_EQ(random.next(), 6457827717110365317U);
  EXPECT_EQ(random.next(), 3203168211198807973U);
}

TEST(RandomSource, DrawsEveryIntegerOfARange) {
  RandomSource random(1);
  std::map<int, int> seen;
  for (int n = 0; n < 6000; ++n) ++seen[random.integer(-2, 3)];
  ASSERT_EQ(seen.size(), 6U);
  EXPECT_EQ(seen.begin()->first, -2);
  // A share of 1/6 of 6000 has a standard deviation of 29.
  for (const auto& [value, times] : seen) EXPECT_NEAR(times, 1000, 150) << value;
}

TEST(RandomSource, DrawsNormalNumbersOfMeanZeroAndSpreadOne) {
  RandomSource random(2);
  double sum = 0.0;
  double squares = 0.0;
  constexpr int kTimes = 20000;
  for (int n = 0; n < kTimes; ++n) {
    const double z = random.normal();
    sum += z;
    squares += z * z;
  }
  EXPECT_NEAR(sum / kTimes, 0.0, 0.035);     // five standard errors
  EXPECT_NEAR(squares / kTimes, 1.0, 0.05);  // five standard errors
}

TEST(RandomCandidates, AreTheSameForTheSameSeed) {
  const Standard standard = plain_standard();
  RandomSource one(7);
  RandomSource two(7);
  EXPECT_EQ(describe(random_candidate(one, standard, kToday)),
            describe(random_candidate(two, standard, kToday)));
  RandomSource other(8);
  EXPECT_NE(describe(random_candidate(two, standard, kToday)),
            describe(random_candidate(other, standard, kToday)));
}

TEST(RandomCandidates, KeepTheirKnobs) {
  const Standard standard = plain_standard();
  CandidateKnobs knobs;
  knobs.minutes_a_week = 185;
  knobs.days_to_test = 5;
  knobs.age = 44;
  knobs.plain = true;
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    RandomSource random(seed);
    const Candidate c = random_candidate(random, standard, kToday, knobs);
    int minutes = 0;
    for (const int each : c.week) minutes += each;
    EXPECT_EQ(minutes, 185);
    EXPECT_EQ(c.test_date, kToday + Days{5});
    EXPECT_EQ(age_on(c.birth_date, c.test_date), 44);
    EXPECT_TRUE(c.blocked.empty() && c.fixed.empty() && c.avoid.empty() && c.days.empty());
  }
}

TEST(RandomCandidates, AreValid) {
  const Standard standard = plain_standard();
  for (std::uint64_t seed = 0; seed < 500; ++seed) {
    RandomSource random(seed);
    const Candidate c = random_candidate(random, standard, kToday);
    SCOPED_TRACE(describe(c));
    const int age = age_on(c.birth_date, c.test_date);
    EXPECT_TRUE(age >= 17 && age <= 65);
    EXPECT_GE(c.test_date, kToday);
    EXPECT_FALSE(c.results.empty());
    for (const DatedResult& result : c.results) {
      EXPECT_LE(result.date, kToday);
      EXPECT_TRUE(result.value >= 480.0 && result.value <= 3600.0);
    }
    for (std::size_t i = 1; i < c.blocked.size(); ++i) EXPECT_GT(c.blocked[i].from, c.blocked[i - 1].to);
    for (const BlockedSpell& spell : c.blocked) EXPECT_TRUE(spell.from <= spell.to && spell.to < c.test_date);
    for (const DayOverride& day : c.days) EXPECT_TRUE(day.date >= kToday && day.date < c.test_date);
  }
}

TEST(RandomCandidates, MeetEveryOddSituation) {
  const Standard standard = plain_standard();
  std::map<std::string, int> seen;
  for (std::uint64_t seed = 0; seed < 1000; ++seed) {
    RandomSource random(seed);
    const Candidate c = random_candidate(random, standard, kToday);
    const auto days = (c.test_date - kToday).count();
    seen["test within five days"] += days <= 5 ? 1 : 0;
    seen["test after 38 weeks"] += days >= 38L * 7 ? 1 : 0;
    seen["blocked"] += c.blocked.empty() ? 0 : 1;
    seen["fixed"] += c.fixed.empty() ? 0 : 1;
    seen["diagnostic"] += c.diagnostics.empty() ? 0 : 1;
    seen["avoid"] += c.avoid.empty() ? 0 : 1;
    seen["profile"] += c.medical.status == MedicalStatus::profile ? 1 : 0;
    seen["no kit"] += !c.equipment.hex_bar && !c.equipment.sled && !c.equipment.track ? 1 : 0;
    seen["home blocks"] += c.home_blocks > 0 ? 1 : 0;
    seen["highest"] += c.aim == Aim::highest ? 1 : 0;
    int mornings = 0;
    for (const int minutes : c.week) mornings += minutes > 0 ? 1 : 0;
    seen["one free morning"] += mornings == 1 ? 1 : 0;
    for (const DayOverride& day : c.days) seen["night shift"] += day.after_night_shift ? 1 : 0;
  }
  for (const auto& [situation, times] : seen) EXPECT_GE(times, 20) << situation;
}

}  // namespace
}  // namespace backplan::testing

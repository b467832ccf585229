// Figures of runs: paces, distances, the run rule.
#include <gtest/gtest.h>

#include <string>

#include "support/prescription_text.hpp"
#include "support/situations.hpp"

namespace backplan {
namespace {

using support::Case;
using support::easy_work;
using support::interval_work;
using support::kTwoMiles;
using support::match_in;
using support::tempo_work;

// Paces of a 16:00 two-miler: interval 7:55-7:48, threshold 9:03-8:38, easy 10:59-9:48 a mile
// (oxygen-cost equations); printed seconds are rounded up, so never faster.
TEST(Intervals, AlternateQuartersAndHalvesAtIntervalPace) {
  Case c;
  EXPECT_EQ(c.block(interval_work()).prescription,
            "8×400 m at interval pace: 1:59-1:57 per 400 m, 7:56-7:48 a mile; 90 s easy jog or walk between; "
            "brisk walk for the rest");
  c.situation.training_week = 5;
  const Block halves = c.block(interval_work());
  EXPECT_TRUE(match_in(halves.prescription, "^5×800 m at interval pace: 1:59-1:57 per 400 m"));
  EXPECT_EQ(halves.continuous_run->value(), 800.0);
}

TEST(Intervals, AreFewerInAShortBlockAndInADeload) {
  Case c;
  EXPECT_TRUE(match_in(c.block(interval_work(), BlockSize::shorter).prescription, "^6×400 m"));
  c.situation.phase = Phase::deload;
  EXPECT_TRUE(match_in(c.block(interval_work()).prescription, "^4×400 m"));
}

TEST(Intervals, GoByTheClockWithoutATrack) {
  Case c;
  c.candidate.equipment.track = false;
  const std::string text = c.block(interval_work()).prescription;
  EXPECT_TRUE(match_in(text, "^8× 1:55 at interval pace: 7:56-7:48 a mile")) << text;
}

TEST(Intervals, TurnIntoGoalPaceQuartersInTheLastMonthWhenTheGoalIsWithinReach) {
  Case c;
  c.situation.goal["2MR"] = 940.0;  // 1:56.8 per 400 m, 7:50 a mile
  c.situation.goal_in_reach["2MR"] = true;
  c.situation.weeks_to_test = 5;
  EXPECT_FALSE(match_in(c.block(interval_work()).prescription, "goal"));
  c.situation.weeks_to_test = 4;
  EXPECT_TRUE(
      match_in(c.block(interval_work()).prescription, "^8×400 m at goal pace: 1:57 per 400 m, 7:50 a mile"));
  c.situation.goal_in_reach["2MR"] = false;
  EXPECT_FALSE(match_in(c.block(interval_work()).prescription, "goal"));
}

TEST(Intervals, StopThreePercentUnderTheProvenRunOnTheWayToAFastGoal) {
  Case c;
  c.situation.goal["2MR"] = 880.0;
  c.situation.goal_in_reach["2MR"] = true;
  c.situation.weeks_to_test = 3;
  // 0.97 of 16:00 is 931.2 s: 7:45.6 a mile.
  EXPECT_TRUE(match_in(c.block(interval_work()).prescription, "near goal pace: 1:56 per 400 m, 7:46 a mile"));
}

// FM 7-22 (2012) chapter 10: run 30 s, walk 60 s, later 60 and 120; 6 repeats, up to 10.
TEST(Intervals, StartABeginnerWithShortRunsAndLongWalks) {
  Case c(Background::new_to_training);
  c.situation.training_week = 1;
  EXPECT_EQ(c.block(interval_work()).prescription,
            "7× run 30 s / walk 1 min, 75-85 % effort (talk in single words), no faster than 1:57 per 400 m, "
            "7:48 a mile; brisk walk for the rest");
  c.situation.training_week = 5;
  EXPECT_TRUE(match_in(c.block(interval_work()).prescription, "^7× run 1 min / walk 2 min"));
  c.situation.training_week = 8;
  EXPECT_TRUE(match_in(c.block(interval_work()).prescription, "^6×400 m"));
  c.situation.training_week = 0;
  c.situation.form_first = true;
  EXPECT_TRUE(match_in(c.block(interval_work()).prescription, "^6× run 30 s / walk 1 min, 50-60 % effort"));
}

TEST(Intervals, GoByEffortWhenTheRunWasNeverMeasured) {
  Case c;
  c.situation.expected.erase("2MR");
  EXPECT_TRUE(
      match_in(c.block(interval_work()).prescription, "^6× run 2 min / walk 2 min, .*effort 8 of 10"));
}

TEST(Tempo, IsTwentyMinutesAtThresholdPaceInPiecesThatKeepTheRunRule) {
  Case c;  // 20 min would be 2.3 miles; the rule allows 2.2
  const Block block = c.block(tempo_work());
  EXPECT_EQ(block.prescription,
            "Walk 5 min, then 2×10 min at threshold pace: 2:15-2:09 per 400 m, 9:03-8:39 a mile, 2 min walk "
            "between; "
            "brisk walk for the rest");
  EXPECT_NEAR(block.continuous_run->value(), 600.0 * kMetresPerMile / 518.2, 2.0);
  c.situation.longest_run = 2.0 * kTwoMiles;
  EXPECT_TRUE(match_in(c.block(tempo_work()).prescription, "then 20 min at threshold pace"));
}

TEST(Tempo, StartsABeginnerWithShortPieces) {
  Case c(Background::new_to_training);
  c.situation.training_week = 0;
  EXPECT_TRUE(match_in(c.block(tempo_work()).prescription, "then 4×3 min at threshold pace"));
}

TEST(EasyRun, IsCappedByTheRunRuleAndFilledWithWalking) {
  Case c;
  const Block block = c.block(easy_work());
  EXPECT_EQ(
      block.prescription,
      "Run 2.2 mi easy, talking all the way: 2:44-2:27 per 400 m, 10:59-9:49 a mile; brisk walk 15 min");
  EXPECT_NEAR(block.continuous_run->value(), 2.2 * kMetresPerMile, 1e-6);
  c.situation.longest_run = Metres(0.0);
  EXPECT_TRUE(match_in(c.block(easy_work()).prescription, "^Run 2.0 mi easy.*brisk walk 18 min$"));
}

TEST(EasyRun, UsesTheWholeBlockWhenTheRuleAllowsIt) {
  Case c;
  c.situation.longest_run = 3.0 * kTwoMiles;
  EXPECT_TRUE(match_in(c.block(easy_work()).prescription, "^Run 3.6 mi easy"));
}

TEST(EasyRun, LetsABeginnerRunAndWalkByTurns) {
  Case c(Background::new_to_training);
  c.situation.training_week = 0;
  EXPECT_TRUE(match_in(c.block(easy_work()).prescription, "^8× run 4 min / brisk walk 1 min"));
}

TEST(EasyRun, GoesByTalkingWhenTheRunWasNeverMeasured) {
  Case c;
  c.situation.proven.erase("2MR");
  const std::string text = c.block(easy_work()).prescription;
  EXPECT_TRUE(match_in(text, "^Run 15 min so easily that you can talk in full sentences.*brisk walk 25 min$"))
      << text;
}

TEST(Runs, AreWalksWhenTheRunRuleAllowsNone) {
  Case c(Background::new_to_training);
  c.situation.longest_run = Metres(0.0);
  c.situation.run_floor = Metres(0.0);
  for (const WorkKind& work : {interval_work(), tempo_work(), easy_work()}) {
    const Block block = c.block(work);
    EXPECT_EQ(block.continuous_run->value(), 0.0);
    EXPECT_TRUE(match_in(block.prescription, "no running yet$")) << block.prescription;
  }
}

}  // namespace
}  // namespace backplan

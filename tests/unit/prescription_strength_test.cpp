// Figures of lifts, push-ups, holds, the shuttle and throws.
#include <gtest/gtest.h>

#include <string>

#include "support/prescription_text.hpp"
#include "support/situations.hpp"

namespace backplan {
namespace {

using support::Case;
using support::hold_work;
using support::lift_work;
using support::match_in;
using support::press_work;
using support::shuttle_work;
using support::throw_work;

Case& at_week(Case& c, int weeks_to_test, int training_week) {
  c.situation.weeks_to_test = weeks_to_test;
  c.situation.training_week = training_week;
  return c;
}

// 3RM 220 lb is 1RM 241.8 lb.
TEST(Lift, GoesFromFivesToFoursToTriplesAsTheTestComesNear) {
  Case c;
  EXPECT_EQ(at_week(c, 15, 0).block(lift_work()).prescription,
            "5×5 at 170 lb (45+10 a side), 70 % of 1RM = 77 % of 3RM, two left; rest 2.5 min; "
            "then rows, carries, split squats 8 min");
  EXPECT_EQ(at_week(c, 8, 7).block(lift_work()).prescription,
            "4×4 at 190 lb (45+10+10 a side), 79 % of 1RM = 86 % of 3RM, two left; rest 3 min; "
            "then rows, carries, split squats 8 min");
  EXPECT_EQ(at_week(c, 2, 13).block(lift_work()).prescription,
            "3×3 at 210 lb (45+25+5 a side), 87 % of 1RM = 95 % of 3RM, two left; rest 3 min; "
            "then rows, carries, split squats 8 min");
}

TEST(Lift, LetsABeginnerWaitForHeavierSets) {
  Case c(Background::new_to_training);
  EXPECT_TRUE(match_in(at_week(c, 4, 2).block(lift_work()).prescription, "^5×5"));
  EXPECT_TRUE(match_in(at_week(c, 4, 4).block(lift_work()).prescription, "^4×4"));
  EXPECT_TRUE(match_in(at_week(c, 4, 6).block(lift_work()).prescription, "^3×3"));
}

TEST(Lift, StartsABeginnerWithFormAtSixtyToSixtyFivePercent) {
  Case c(Background::new_to_training);
  c.candidate.equipment.plates_lb = {45, 45, 25, 25, 10, 10, 5, 5, 2.5, 2.5, 1.25, 1.25, 1.25, 1.25};
  c.situation.form_first = true;
  const Block first = at_week(c, 12, 0).block(lift_work());
  EXPECT_TRUE(match_in(first.prescription, "^Form first.*3×5 at 145 lb"))
      << first.prescription;  // 60 %: 145.1
  const Block second = at_week(c, 11, 1).block(lift_work());
  EXPECT_TRUE(match_in(second.prescription, "^Form first.*3×5 at 157.5 lb"))
      << second.prescription;  // 65 %: 157.2
}

TEST(Lift, MakesTheSecondDayLighter) {
  Case c;
  const double heavy = c.block(lift_work()).load->value();
  c.situation.nth_this_week = 1;
  const Block light = c.block(lift_work());
  EXPECT_LT(light.load->value(), heavy);
  EXPECT_TRUE(match_in(light.prescription, "^Lighter day: "));
}

TEST(Lift, KeepsTheLoadAndHalvesTheSetsInADeload) {
  Case c;
  const Block build = at_week(c, 12, 5).block(lift_work());
  c.situation.phase = Phase::deload;
  const Block deload = c.block(lift_work());
  EXPECT_EQ(deload.load->value(), build.load->value());
  EXPECT_TRUE(match_in(build.prescription, "^5×5"));
  EXPECT_TRUE(match_in(deload.prescription, "^Fewer sets: 3×5"));
}

TEST(Lift, ShortensTheShortBlock) {
  Case c;
  EXPECT_TRUE(match_in(at_week(c, 12, 5).block(lift_work(), BlockSize::shorter).prescription, "^3×5"));
}

TEST(Lift, PutsOneTopTripleBeforeTheSetsOnceAWeek) {
  Case c;
  c.situation.top_triple = true;
  const Block block = at_week(c, 4, 11).block(lift_work());
  EXPECT_EQ(block.prescription,
            "One triple at 210 lb (45+25+5 a side, 87 %), then 3×3 at 200 lb (45+25 a side), "
            "83 % of 1RM = 91 % of 3RM; rest 3 min; rows, carries, split squats");
  EXPECT_EQ(block.load->value(), 210.0);
  c.situation.nth_this_week = 1;
  EXPECT_FALSE(match_in(c.block(lift_work()).prescription, "triple"));
}

TEST(Lift, StaysNearWhatWasProvenWhenTheForecastRunsAhead) {
  Case c;
  c.situation.expected["MDL"] = 300.0;
  c.situation.proven["MDL"] = 200.0;
  // Proven 1RM 219.8; four with two left is n = 6: 183.5, and one step of 10 lb: 193.5.
  EXPECT_EQ(at_week(c, 8, 7).block(lift_work()).load->value(), 190.0);
}

TEST(Lift, UsesABarThatIsHeavierThanTheDayOnlyForFewerRepetitions) {
  Case c;
  c.measured("MDL", 75.0);  // 1RM 82.4; the 60 lb bar goes 11 times
  const Block bar = at_week(c, 12, 0).block(lift_work());
  EXPECT_TRUE(match_in(bar.prescription, "^5×5 with the empty bar")) << bar.prescription;
  EXPECT_EQ(bar.load->value(), 60.0);
  c.measured("MDL", 60.0);  // 1RM 65.9; the bar itself is the three-repetition maximum
  const Block light = c.block(lift_work());
  EXPECT_FALSE(light.load);
  EXPECT_TRUE(match_in(light.prescription, "one 40 lb kettlebell"));
  c.candidate.equipment.kettlebells = false;
  EXPECT_TRUE(match_in(c.block(lift_work()).prescription, "sandbag"));
}

TEST(Lift, SlowsTheLoweringWhenThePlatesEnd) {
  Case c;
  c.candidate.equipment.plates_lb = {45, 45};
  const Block block = c.block(lift_work());
  EXPECT_EQ(block.load->value(), 150.0);
  EXPECT_TRUE(match_in(block.prescription, "lowered for 3 s"));
}

TEST(Lift, FindsTheLoadWhenItWasNeverMeasured) {
  Case c;
  c.situation.proven.erase("MDL");
  const Block block = c.block(lift_work());
  EXPECT_TRUE(match_in(block.prescription, "^Find the load: .*empty bar \\(60 lb\\).*three left; log it"));
  EXPECT_FALSE(match_in(block.prescription, "%"));
}

TEST(PushUps, AreSetsOfAboutHalfTheMaximum) {
  const Case c;  // 30 push-ups
  EXPECT_EQ(c.block(press_work()).prescription,
            "5×15 hand-release push-ups (50 % of 30), arms straight at the top each time; rest 90 s");
}

TEST(PushUps, StartWithRaisedHandsAndSlowLoweringUnderTen) {
  Case c;
  c.measured("HRP", 3.0);
  EXPECT_EQ(
      c.block(press_work()).prescription,
      "5×5 with hands raised to where ten would go, rest 90 s; then 6 slow lowerings to the floor, 5 s each");
}

TEST(PushUps, AreRehearsedForTwoMinutesAndCountAsHard) {
  Case c;
  c.situation.rehearsal = true;
  const Block block = c.block(press_work());
  EXPECT_TRUE(block.rehearsal);
  EXPECT_TRUE(
      match_in(block.prescription, "^Rehearsal: .*two minutes, graded.*log the count \\(about 30 now\\)"));
  c.situation.rehearsal = false;
  EXPECT_FALSE(c.block(press_work()).rehearsal);
}

TEST(Holds, AreAboutSixTenthsOfTheMaximum) {
  Case c;
  c.measured("PLK", 125.0);
  EXPECT_EQ(c.block(hold_work()).prescription,
            "4×1:15 plank (60 % of 2:05), rest 1 min; then side planks, dead bugs, hip bridges 4 min");
  c.measured("PLK", 30.0);
  EXPECT_TRUE(match_in(c.block(hold_work()).prescription, "^5×0:18 plank"));
}

TEST(Holds, EndInOneGradedHoldWhenAsked) {
  Case c;
  c.situation.graded_hold = true;
  EXPECT_TRUE(match_in(c.block(hold_work()).prescription, "^One graded hold to the end.*about 2:00 now"));
}

TEST(Shuttle, TakesTheLegsSinglyWithTheTestsLoads) {
  const Case c;
  EXPECT_EQ(
      c.block(shuttle_work()).prescription,
      "2 rounds, legs singly, 50 m each: sprint, drag 90 lb, lateral, carry 2×40 lb, sprint; effort 9 of 10; "
      "rest 90 s, 2 min more between rounds");
}

TEST(Shuttle, IsRehearsedInFull) {
  Case c;
  c.situation.rehearsal = true;
  const Block block = c.block(shuttle_work());
  EXPECT_TRUE(block.rehearsal);
  EXPECT_TRUE(match_in(block.prescription, "^Rehearsal: one full run, timed.*about 2:10 now"));
}

TEST(Throws, AreFewAndAtFullEffort) {
  const Case c;
  EXPECT_EQ(c.block(throw_work()).prescription,
            "10 backward overhead throws of the 10 lb ball from the hips, full effort, rest 1 min each "
            "(about 8.0 m now)");
  EXPECT_TRUE(match_in(c.block(throw_work(), BlockSize::shorter).prescription, "^6 backward"));
}

}  // namespace
}  // namespace backplan

// The independent checker: a sound plan passes, and each single breaking is noticed under its own
// name. The plans are made by hand, the rules are those of data/model/rules.json.
// Here: the form of a plan, the slots of its days.
#include "backplan/check.hpp"

#include <gtest/gtest.h>

#include "support/sound_plan.hpp"

namespace backplan::testing {
namespace {

TEST(Check, PassesASoundPlan) {
  Scene scene;
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(Check, PassesHomeBlocksAndEasyFixedWork) {
  Scene scene;
  scene.candidate.home_blocks = 2;
  scene.rules.taper_middle_up_to_minutes = 300;
  scene.candidate.fixed = {fixed_work(kWed, "unit_run", 25, 4000.0)};
  scene.edit.add(scene.day(5, kWed), "trunk", BlockSize::home);
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(Check, PassesAPlanWithoutWeeksOnTheTestDay) {
  Scene scene(0);
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(Check, GivesTheFirstDayAndTheNumbers) {
  Scene scene;
  scene.edit.add(scene.day(5, kThu), "trunk");
  scene.edit.refresh();
  const auto found = check_plan(scene.plan, scene.candidate, scene.standard, scene.model, scene.rules);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].where, scene.day(5, kThu));
  EXPECT_EQ(found[0].what, "the session takes 73 minutes; the day offers 60");
}

TEST(Check, SortsByDateThenRule) {
  Scene scene;
  scene.edit.add(scene.day(3, kThu), "trunk");
  scene.edit.add(scene.day(5, kThu), "trunk", BlockSize::home);
  scene.edit.add(scene.day(5, kThu), "throw");
  scene.edit.refresh();
  const auto found = check_plan(scene.plan, scene.candidate, scene.standard, scene.model, scene.rules);
  ASSERT_EQ(found.size(), 3U);
  EXPECT_EQ(found[0].rule, "home-blocks");  // dated by its week
  EXPECT_EQ(found[1].rule, "slot-minutes");
  EXPECT_EQ(found[1].where, scene.day(5, kThu));
  EXPECT_EQ(found[2].where, scene.day(3, kThu));
}

// Form.

TEST(CheckForm, NoticesAWrongAge) {
  Scene scene;
  scene.plan.age += 1;
  EXPECT_EQ(scene.broken(), Names{"form-plan"});
}

TEST(CheckForm, NoticesThePlanOfAnotherCandidate) {
  Scene scene;
  scene.plan.candidate = "somebody-else";
  EXPECT_EQ(scene.broken(), Names{"form-plan"});
}

TEST(CheckForm, NoticesAnotherTestDate) {
  Scene scene;
  scene.plan.test_date += Days{1};
  EXPECT_EQ(scene.broken(), Names{"form-plan"});
}

TEST(CheckForm, NoticesAWrongLengthOfAWeek) {
  Scene scene;
  scene.edit.refresh();
  scene.edit.week(5).days_long = 6;
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"form-weeks"});
}

TEST(CheckForm, NoticesAMissingWeek) {
  Scene scene;
  scene.edit.refresh();
  scene.plan.weeks.erase(scene.plan.weeks.begin());
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"form-weeks"});
}

TEST(CheckForm, NoticesWeeksOutOfOrder) {
  Scene scene;
  scene.edit.refresh();
  std::swap(scene.plan.weeks[3], scene.plan.weeks[4]);
  EXPECT_EQ(scene.broken_as_it_stands(), (Names{"form-days", "form-weeks"}));
}

TEST(CheckForm, NoticesMinutesThatDoNotSumUp) {
  Scene scene;
  scene.edit.refresh();
  scene.edit.week(5).minutes += 1;
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"form-minutes"});
}

TEST(CheckForm, NoticesADayInAnotherWeek) {
  Scene scene;
  scene.edit.refresh();
  PlannedDay day;
  day.date = scene.day(4, kSun);
  day.note = "wrong place";
  scene.edit.week(5).days.push_back(day);
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"form-days"});
}

TEST(CheckForm, NoticesATaperThatBeginsTooEarly) {
  Scene scene;
  scene.edit.week(5).phase = Phase::taper;
  EXPECT_EQ(scene.broken(), Names{"form-phase"});
}

TEST(CheckForm, NoticesABlockedWeekWithoutBlockedDays) {
  Scene scene;
  scene.edit.week(5).phase = Phase::blocked;
  EXPECT_EQ(scene.broken(), Names{"form-phase"});
}

TEST(CheckForm, NoticesABlockWithoutAReason) {
  Scene scene;
  scene.edit.day(scene.day(5, kMon)).blocks[0].why.clear();
  EXPECT_EQ(scene.broken(), Names{"form-text"});
}

TEST(CheckForm, NoticesUnknownWork) {
  Scene scene;
  scene.edit.day(scene.day(5, kTue)).blocks[1].work = "juggling";
  // A block of nobody's kind cannot be counted into the session either.
  EXPECT_EQ(scene.broken(), (Names{"slot-figures", "unknown-work"}));
}

// The slot.

TEST(CheckSlot, NoticesABlockOfTheWrongLength) {
  Scene scene;
  scene.edit.day(scene.day(5, kTue)).blocks[1].minutes = 12;
  EXPECT_EQ(scene.broken(), Names{"block-shape"});
}

TEST(CheckSlot, NoticesAFourthBlock) {
  Scene scene;
  scene.offer(scene.day(5, kThu), 120);
  scene.edit.add(scene.day(5, kThu), "trunk");
  scene.edit.add(scene.day(5, kThu), "throw");
  EXPECT_EQ(scene.broken(), Names{"slot-blocks"});
}

TEST(CheckSlot, NoticesASecondHardBlock) {
  Scene scene;
  scene.offer(scene.day(5, kSat), 120);
  scene.edit.add(scene.day(5, kSat), "intervals");
  EXPECT_EQ(scene.broken(), Names{"slot-hard"});
}

TEST(CheckSlot, CountsATimedRehearsalAsHard) {
  Scene scene;
  scene.edit.day(scene.day(5, kTue)).blocks[1].rehearsal = true;
  EXPECT_EQ(scene.broken(), Names{"slot-hard"});
}

TEST(CheckSlot, NoticesAKindTwiceADay) {
  Scene scene;
  scene.offer(scene.day(5, kThu), 120);
  scene.edit.add(scene.day(5, kThu), "push_up");
  EXPECT_EQ(scene.broken(), Names{"slot-repeat"});
}

TEST(CheckSlot, NoticesASessionLongerThanTheDayOffers) {
  Scene scene;
  scene.edit.add(scene.day(5, kThu), "trunk");
  EXPECT_EQ(scene.broken(), Names{"slot-minutes"});
}

TEST(CheckSlot, NoticesADayThatClaimsToOfferMore) {
  Scene scene;
  scene.edit.refresh();
  scene.edit.day(scene.day(5, kThu)).slot_minutes = 75;
  EXPECT_EQ(scene.broken_as_it_stands(), Names{"slot-figures"});
}

TEST(CheckSlot, NoticesAHomeBlockTooMany) {
  Scene scene;
  scene.edit.add(scene.day(5, kThu), "trunk", BlockSize::home);
  EXPECT_EQ(scene.broken(), Names{"home-blocks"});
}

TEST(CheckSlot, NoticesWorkThatCannotBeDoneAtHome) {
  Scene scene;
  scene.candidate.home_blocks = 2;
  scene.rules.taper_middle_up_to_minutes = 300;
  scene.edit.add(scene.day(5, kWed), "easy_run", BlockSize::home);
  EXPECT_EQ(scene.broken(), Names{"home-blocks"});
}

TEST(CheckSlot, NoticesALiftAfterARun) {
  Scene scene;
  const Date date = scene.day(5, kMon);
  scene.offer(date, 120);
  scene.edit.clear(date);
  scene.edit.add(date, "easy_run");
  scene.edit.add(date, "deadlift");
  EXPECT_EQ(scene.broken(), Names{"block-order"});
}

TEST(CheckSlot, NoticesAHomeBlockBeforeTheSession) {
  Scene scene;
  scene.candidate.home_blocks = 2;
  scene.rules.taper_middle_up_to_minutes = 300;
  scene.edit.add(scene.day(5, kThu), "trunk", BlockSize::home);
  auto& blocks = scene.edit.day(scene.day(5, kThu)).blocks;
  std::swap(blocks.front(), blocks.back());
  EXPECT_EQ(scene.broken(), Names{"block-order"});
}

TEST(CheckSlot, NoticesAvoidedWork) {
  Scene scene;
  Avoid avoid;
  avoid.work = "tempo";
  avoid.from = scene.day(5, kMon);
  avoid.until = scene.day(5, kThu);
  scene.candidate.avoid = {avoid};
  EXPECT_EQ(scene.broken(), Names{"avoid"});
  scene.candidate.avoid[0].until = scene.day(5, kWed);
  EXPECT_EQ(scene.broken(), Names{});
}

TEST(CheckSlot, NoticesMissingEquipment) {
  Scene scene;
  scene.candidate.equipment.sled = false;
  EXPECT_EQ(scene.broken(), Names{"equipment"});
}

}  // namespace
}  // namespace backplan::testing

// Who moves from a group to another when a squad is planned anew.
#include <gtest/gtest.h>

#include <algorithm>

#include "backplan/programme.hpp"
#include "core/programme_parts.hpp"
#include "property/shipped_data.hpp"
#include "support/random_squads.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

class ProgrammeMoves : public ::testing::Test {
 protected:
  ProgrammeMoves() {
    testing::RandomSource random(1);
    testing::SquadKnobs knobs;
    knobs.people = 4;
    knobs.plain = true;
    squad_ = testing::random_squad(random, knowledge_.standard, as_of_, knobs);
  }

  [[nodiscard]] Programme programme(std::vector<Group> kept) const {
    ProgrammeOptions options;
    options.kept = std::move(kept);
    return make_programme(squad_, knowledge_, as_of_, {}, options);
  }

  const Date as_of_ = test::day(2026, 12, 1);
  const Knowledge knowledge_{testing::shipped_standard("us-army-aft"), testing::shipped_model(),
                             testing::shipped_rules()};
  Squad squad_;
};

TEST_F(ProgrammeMoves, NobodyMovesWhereNothingHasChanged) {
  const Programme first = programme({});
  EXPECT_TRUE(programme(first.groups).moves.empty());
}

TEST_F(ProgrammeMoves, EverybodyLeavesAWeekWithoutWork) {
  Group idle{"Z", {}, {}, {}};
  for (const Member& member : squad_.members) idle.members.push_back(member.candidate.id);
  const Programme found = programme({idle});
  ASSERT_FALSE(found.moves.empty());
  for (const Move& move : found.moves) {
    EXPECT_EQ(move.from, "Z");
    const bool known = std::any_of(found.groups.begin(), found.groups.end(),
                                   [&](const Group& group) { return group.id == move.to; });
    EXPECT_TRUE(known) << move.to;
  }
}

// Staying is preferred, but a plan made again brings no more than the plan was worth.
TEST_F(ProgrammeMoves, TheGainOfASquadThatStaysIsWhatItWas) {
  const Programme first = programme({});
  const Programme again = programme(first.groups);
  EXPECT_NEAR(again.gain, first.gain, 1e-9);
  EXPECT_NEAR(again.optimality.value, first.optimality.value, 1e-9);
  EXPECT_GE(again.optimality.bound.value_or(-1.0), again.optimality.value - 1e-12);
}

// What others would gain moves nobody out of a week that goes on.
TEST_F(ProgrammeMoves, NobodyLeavesAWeekThatGoesOnForLessThanTwoInAHundred) {
  const double worth = knowledge_.rules.squad.failures_worth_moving;
  squad_.most_groups = 3;
  const Programme first = programme({});
  int moves = 0;
  for (std::size_t turn = 0; turn < squad_.members.size(); ++turn) {
    std::vector<Group> kept = first.groups;
    kept.push_back({"Z", {}, {}, {}});
    for (Group& group : kept) group.members.clear();
    for (std::size_t i = 0; i < squad_.members.size(); ++i)
      kept[(i + turn) % kept.size()].members.push_back(squad_.members[i].candidate.id);
    const Programme now = programme(kept);
    for (const Move& move : now.moves) {
      ++moves;
      const bool goes_on = std::any_of(now.groups.begin(), now.groups.end(),
                                       [&](const Group& group) { return group.id == move.from; });
      EXPECT_TRUE(move.gain ? *move.gain >= worth : !goes_on || !move.given_up) << move.id;
    }
  }
  EXPECT_GT(moves, 0);
}

// Two weeks, one place in the second: the newcomer would gain more there, but who has it loses by leaving.
TEST(Staying, HoldsBackWhoWouldOnlyMakeRoomForOthers) {
  ChoiceProblem problem;
  problem.people = 2;
  problem.patterns = 2;
  problem.lanes = 1;
  problem.value = {0.80, 0.81, 0.30, 0.40};
  problem.use = {0.0, 1.0};
  problem.capacity = {1.0};
  problem.needs = {1, 1};
  problem.most_patterns = 2;
  Staying one;
  one.kept = {std::size_t{1}, std::size_t{0}};
  one.worth = problem.value;
  one.patterns = 2;
  one.worth_moving = 0.02;
  prefer_the_kept(one, problem);
  Choice choice = choose_patterns(problem);
  ASSERT_EQ(choice.pattern_of, (std::vector<std::size_t>{0, 1}));  // both move, the first for nothing
  // The first one's old week goes on, with the other in it.
  ASSERT_TRUE(hold_back(one, choice, problem));
  choice = choose_patterns(problem);
  EXPECT_EQ(choice.pattern_of, (std::vector<std::size_t>{1, 0}));
  EXPECT_FALSE(hold_back(one, choice, problem));
  // One keeps the old week, and one does: what the problem adds for that is no worth of the weeks.
  EXPECT_NEAR(choice.value + without_staying(one, choice), 0.81 + 0.30, 1e-12);
}

// One who stays and one whom the lanes force out although held back.
TEST(Staying, NeitherWhatItCountsNorWhatHoldingBackCostsIsWorthAnything) {
  Staying one;
  one.kept = {std::size_t{0}, std::size_t{0}};
  one.worth = {0.80, 0.81, 0.30, 0.31};
  one.patterns = 2;
  one.worth_moving = 0.02;
  Choice choice;
  choice.pattern_of = {0, 1};
  choice.value = (0.80 + 0.02) + (0.31 - 20.0);
  choice.bound = choice.value + 0.005;
  EXPECT_NEAR(choice.value + without_staying(one, choice), 0.80 + 0.31, 1e-9);
  EXPECT_NEAR(choice.bound + without_staying(one, choice), 0.80 + 0.31 + 0.005, 1e-9);
}

}  // namespace
}  // namespace backplan

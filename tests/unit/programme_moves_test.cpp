// Who moves from a group to another when a squad is planned anew.
#include <gtest/gtest.h>

#include <algorithm>

#include "backplan/programme.hpp"
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

// What others would gain moves nobody.
TEST_F(ProgrammeMoves, NobodyMovesForLessThanTwoInAHundred) {
  const Programme first = programme({});
  const double worth = knowledge_.rules.squad.failures_worth_moving;
  int moves = 0;
  for (std::size_t turn = 0; turn < squad_.members.size(); ++turn) {
    std::vector<Group> kept = first.groups;
    for (Group& group : kept) group.members.clear();
    for (std::size_t i = 0; i < squad_.members.size(); ++i)
      kept[(i + turn) % kept.size()].members.push_back(squad_.members[i].candidate.id);
    Group idle{"Z", {}, {squad_.members[turn].candidate.id}, {}};
    for (Group& group : kept) {
      const auto at = std::find(group.members.begin(), group.members.end(), idle.members.front());
      if (at != group.members.end()) group.members.erase(at);
    }
    kept.push_back(idle);
    for (const Move& move : programme(kept).moves) {
      ++moves;
      EXPECT_TRUE(!move.gain || *move.gain >= worth) << move.id << ' ' << move.gain.value_or(0.0);
    }
  }
  EXPECT_GT(moves, 0);
}

}  // namespace
}  // namespace backplan

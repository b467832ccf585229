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

}  // namespace
}  // namespace backplan

// The mutations themselves, on a plan made by hand: each finds a place and each is noticed. What
// they do to the planner's own plans is in plan_properties_test.cpp.
#include <gtest/gtest.h>

#include <string>

#include "backplan/check.hpp"
#include "property/plan_mutations.hpp"
#include "support/sound_plan.hpp"

namespace backplan::testing {
namespace {

TEST(PlanMutations, AreNoticedOnAPlanMadeByHand) {
  std::vector<Mutation> all = day_mutations();
  for (Mutation& mutation : week_mutations()) all.push_back(std::move(mutation));
  for (const Mutation& mutation : all) {
    SCOPED_TRACE(mutation.name);
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
      Scene scene;
      ASSERT_EQ(scene.broken(), Names{});
      RandomSource random(seed);
      Finished finished{scene.plan, scene.candidate, scene.model, scene.rules, random};
      ASSERT_TRUE(mutation.apply(finished)) << "found no place";
      EXPECT_EQ(scene.broken_as_it_stands().count(mutation.rule), 1U)
          << "seed " << seed << ": " << mutation.rule;
    }
  }
}

}  // namespace
}  // namespace backplan::testing

#include "cli/finished_plan.hpp"

#include <gtest/gtest.h>

#include <sstream>
#include <string>

#include "support/sound_plan.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan::cli {
namespace {

using support::holds;
using test::TemporaryFolder;
using testing::Scene;

// A sound plan with one rule broken: the second intervals of a week on the day after the first.
void break_a_rule(Scene& scene) {
  scene.edit.clear(scene.day(5, testing::kWed));
  scene.offer(scene.day(5, testing::kWed), 60);
  scene.edit.add(scene.day(5, testing::kWed), "intervals");
  scene.edit.refresh();
}

// What hand_over does with the scene's plan, run as the program runs every command.
struct HandOver {
  int code = 0;
  std::string out;
  std::string err;
  std::string files;
};

HandOver hand_over_plan_of(const Scene& scene) {
  const TemporaryFolder folder;
  const Workspace files{scene.standard, scene.model, scene.rules, scene.candidate};
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  const Environment environment;
  const Session session{folder.path(), scene.plan.as_of, Output::json, {in, out, err}, environment};
  const int code = code_of([&] { return hand_over(scene.plan, files.candidate, files, session); }, err);
  return {code, out.str(), err.str(), folder.names()};
}

TEST(FinishedPlan, ThatIsSoundIsWrittenAndPrinted) {
  Scene scene;
  scene.edit.refresh();
  const Plan& plan = checked(scene.plan, scene.candidate, {scene.standard, scene.model, scene.rules});
  EXPECT_EQ(&plan, &scene.plan);
  scene.plan.enough = true;
  const HandOver done = hand_over_plan_of(scene);
  EXPECT_EQ(done.code, kExitDone) << done.err;
  EXPECT_EQ(done.err, "");
  EXPECT_TRUE(holds(done.out, "\"backplan-plan/1\""));
  EXPECT_TRUE(holds(done.files, "plan.json")) << done.files;
  scene.plan.enough = false;
  EXPECT_EQ(hand_over_plan_of(scene).code, kExitAnswerIsNo);
}

TEST(FinishedPlan, ThatBreaksARuleIsABugThatNamesTheRuleAndTheWeek) {
  Scene scene;
  break_a_rule(scene);
  try {
    static_cast<void>(checked(scene.plan, scene.candidate, {scene.standard, scene.model, scene.rules}));
    FAIL() << "the broken plan was let through";
  } catch (const BrokenPlan& bug) {
    EXPECT_TRUE(holds(bug.what(), "breaks the rule ")) << bug.what();
    EXPECT_TRUE(holds(bug.what(), " in week 5 before the test, on ")) << bug.what();
  }
}

TEST(FinishedPlan, ThatBreaksARuleIsNeitherWrittenNorPrinted) {
  Scene scene;
  break_a_rule(scene);
  const HandOver done = hand_over_plan_of(scene);
  EXPECT_EQ(done.code, kExitBug);
  EXPECT_EQ(done.out, "");
  EXPECT_EQ(done.files, "");
  EXPECT_TRUE(holds(done.err, "error: a fault of the program: the plan breaks the rule ")) << done.err;
  EXPECT_TRUE(holds(done.err, "hint: nothing was changed; please report it")) << done.err;
}

TEST(FinishedPlan, ThatWasNotWrittenOutIsNotTakenForASoundOne) {
  Scene scene;
  scene.edit.refresh();
  scene.plan.weeks.clear();
  EXPECT_THROW(
      static_cast<void>(checked(scene.plan, scene.candidate, {scene.standard, scene.model, scene.rules})),
      BrokenPlan);
}

}  // namespace
}  // namespace backplan::cli

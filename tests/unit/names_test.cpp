#include <gtest/gtest.h>

#include <stdexcept>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/replan.hpp"
#include "backplan/result.hpp"
#include "backplan/squad.hpp"

namespace backplan {
namespace {

TEST(Names, PointsPrintWithoutAPointUnlessTheyHaveTenths) {
  EXPECT_EQ(to_string(Points::whole(72)), "72");
  EXPECT_EQ(to_string(Points::from_tenths(725)), "72.5");
  EXPECT_EQ(to_string(Points::from_tenths(-5)), "-0.5");
}

TEST(Names, ADiagnosticLeavesOutWhatIsNotKnown) {
  EXPECT_EQ(to_string(Diagnostic{Severity::error, "a.json", 3, 7, "/x", "what", "do"}),
            "a.json:3:7: error: what (at /x)\nhint: do");
  EXPECT_EQ(to_string(Diagnostic{Severity::warning, "a.csv", 3, 0, "", "what", ""}),
            "a.csv:3: warning: what");
  EXPECT_EQ(to_string(Diagnostic{Severity::error, "", 0, 0, "", "what", ""}), "error: what");
}

TEST(Names, OnlyAnErrorIsAnError) {
  Diagnostics list{{Severity::warning, "", 0, 0, "", "w", ""}};
  EXPECT_FALSE(has_error(list));
  list.push_back({Severity::error, "", 0, 0, "", "e", ""});
  EXPECT_TRUE(has_error(list));
}

TEST(Names, TheWeekStartsOnMonday) {
  const auto march = std::chrono::year(2027) / 3;
  EXPECT_EQ(weekday_index(std::chrono::sys_days(march / 8)), 0);   // a Monday
  EXPECT_EQ(weekday_index(std::chrono::sys_days(march / 14)), 6);  // a Sunday
}

TEST(Names, WordsAreThoseOfTheFiles) {
  EXPECT_EQ(to_string(AgeBand{22, 26}), "22-26");
  EXPECT_EQ(to_string(AgeBand{62, 99}), "62+");
  EXPECT_EQ(to_string(Background::new_to_training), "new");
  EXPECT_EQ(to_string(Status::common_practice), "common practice");
  EXPECT_EQ(to_string(BlockSize::shorter), "short");
  EXPECT_EQ(to_string(Setting::self), "self");
  EXPECT_EQ(unit_name(Unit::pound), "lb");
  EXPECT_EQ(unit_name(Unit::second), "mm:ss");
}

TEST(Names, EveryUnitHasAWord) {
  EXPECT_EQ(unit_name(Unit::metre), "m");
  EXPECT_EQ(unit_name(Unit::centimetre), "cm");
  EXPECT_EQ(unit_name(Unit::kilometre), "km");
  EXPECT_EQ(unit_name(Unit::go), "go");
  EXPECT_EQ(to_string(SquadGoal::most_at_target), "most at target");
}

// They stand in answers as JSON: docs and schemas name them.
TEST(Names, CausesOfAChangeHaveOneNameEach) {
  const std::vector<std::string> names = {"test_moved", "calendar", "pain",     "off",    "figures",
                                          "gap",        "phase",    "recovery", "missed", "yield",
                                          "minutes",    "moved",    "refilled"};
  for (std::size_t i = 0; i < names.size(); ++i) EXPECT_EQ(to_string(static_cast<ChangeCause>(i)), names[i]);
  EXPECT_THROW(static_cast<void>(to_string(static_cast<ChangeCause>(names.size()))), std::logic_error);
}

// A number that is none of the names comes from overwritten memory; no word is made up for it.
TEST(Names, ANumberThatIsNoNameIsABug) {
  EXPECT_THROW(static_cast<void>(unit_name(static_cast<Unit>(99))), std::logic_error);
  EXPECT_THROW(static_cast<void>(to_string(static_cast<Background>(99))), std::logic_error);
  EXPECT_THROW(static_cast<void>(to_string(static_cast<Setting>(99))), std::logic_error);
  EXPECT_THROW(static_cast<void>(to_string(static_cast<Status>(99))), std::logic_error);
  EXPECT_THROW(static_cast<void>(to_string(static_cast<BlockSize>(99))), std::logic_error);
  EXPECT_THROW(static_cast<void>(to_string(static_cast<SquadGoal>(99))), std::logic_error);
}

}  // namespace
}  // namespace backplan

// Properties of every squad programme: the independent checker finds nothing in it, and finds each breaking
// of a morning.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <set>

#include "backplan/programme.hpp"
#include "property/case_count.hpp"
#include "property/shipped_data.hpp"
#include "support/random_squads.hpp"

namespace backplan::testing {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 11 / 2};
constexpr int kSquads = 60;

Knowledge knowledge_of(const std::string& standard) {
  return {shipped_standard(standard), shipped_model(), shipped_rules()};
}

std::string to_text(const std::vector<SquadViolation>& found) {
  std::string text;
  for (std::size_t i = 0; i < found.size() && i < 6; ++i)
    text += fmt::format("  {} {} day {}: {}\n", found[i].rule, found[i].who,
                        (found[i].where - kToday).count(), found[i].what);
  return text;
}

std::set<std::string> rules_in(const std::vector<SquadViolation>& found) {
  std::set<std::string> rules;
  for (const SquadViolation& one : found) rules.insert(one.rule);
  return rules;
}

TEST(SquadProperties, EveryProgrammePassesTheChecker) {
  const int most = property_cases(kSquads);
  for (int seed = 1; seed <= most; ++seed) {
    RandomSource random(static_cast<std::uint64_t>(seed));
    const std::string standard = seed % 4 == 0 ? "us-army-acft-2022" : "us-army-aft";
    const Knowledge knowledge = knowledge_of(standard);
    SquadKnobs knobs;
    knobs.people = random.integer(1, 14);
    knobs.plain = seed % 3 == 0;
    const Squad squad = random_squad(random, knowledge.standard, kToday, knobs);
    const Programme programme = make_programme(squad, knowledge, kToday);
    const auto found = check_programme(programme, squad, knowledge);
    EXPECT_TRUE(found.empty()) << "seed " << seed << ", " << found.size() << " found\n" << to_text(found);
    EXPECT_EQ(programme.people.size(), squad.members.size());
    EXPECT_LE(programme.groups.size(), static_cast<std::size_t>(squad.most_groups));
    EXPECT_GE(*programme.optimality.bound, programme.optimality.value - 1e-9);
  }
}

class BrokenMorning : public ::testing::Test {
 protected:
  void SetUp() override {
    RandomSource random(7);
    SquadKnobs knobs;
    knobs.people = 14;
    knobs.plain = true;
    squad_ = random_squad(random, knowledge_.standard, kToday, knobs);
    squad_.most_groups = 2;
    programme_ = make_programme(squad_, knowledge_, kToday);
    ASSERT_TRUE(check_programme(programme_, squad_, knowledge_).empty());
  }

  // The first lane of this kind that at least so many people share.
  Station& lane(const std::string& word, std::size_t people) {
    for (Morning& morning : programme_.mornings) {
      for (Station& station : morning.stations) {
        std::set<std::string> ids;
        for (const Turn& turn : station.turns) ids.insert(turn.id);
        if (station.lane.rfind(word, 0) == 0 && ids.size() >= people) return station;
      }
    }
    throw std::runtime_error("no lane of " + word);
  }

  [[nodiscard]] std::set<std::string> found() const {
    return rules_in(check_programme(programme_, squad_, knowledge_));
  }

  Knowledge knowledge_ = knowledge_of("us-army-aft");
  Squad squad_;
  Programme programme_;
};

TEST_F(BrokenMorning, ATurnAfterTheEndIsFound) {
  programme_.mornings.front().stations.back().turns.back().to = programme_.mornings.front().minutes + 1.0;
  EXPECT_EQ(found().count("morning-minutes"), 1U);
}

TEST_F(BrokenMorning, TwoPeopleOnOneBarAtATimeAreFound) {
  Station& bar = lane("bar", 2);
  bar.turns[1].from = bar.turns[0].from;
  bar.turns[1].to = bar.turns[0].to;
  EXPECT_EQ(found().count("morning-lane"), 1U);
}

TEST_F(BrokenMorning, ARestTooShortIsFound) {
  Station& bar = lane("bar", 1);
  const std::string id = bar.turns.front().id;
  Turn* second = nullptr;
  for (Turn& turn : bar.turns) {
    if (&turn != &bar.turns.front() && turn.id == id) {
      second = &turn;
      break;
    }
  }
  ASSERT_NE(second, nullptr);
  second->from = bar.turns.front().to + 0.5;
  second->to = second->from + 1.0;
  EXPECT_EQ(found().count("morning-rest"), 1U);
}

TEST_F(BrokenMorning, ABarThatIsNotThereIsFound) {
  lane("bar", 1).lane = "bar 99";
  EXPECT_EQ(found().count("morning-kit"), 1U);
}

TEST_F(BrokenMorning, ALoadThatThePlatesDoNotMakeIsFound) {
  lane("bar", 1).turns.front().load = Pounds(60.0 + 2.0 * 1000.0);
  EXPECT_EQ(found().count("morning-plates"), 1U);
}

TEST_F(BrokenMorning, SomebodyInTwoPlacesIsFound) {
  Morning& morning = programme_.mornings.front();
  Station twice = morning.stations.front();
  twice.work = "easy_run";
  twice.lane.clear();
  morning.stations.push_back(twice);
  EXPECT_EQ(found().count("morning-place"), 1U);
}

TEST_F(BrokenMorning, WorkThatIsMissingOrNotPlannedIsFound) {
  Station& station = programme_.mornings.front().stations.back();
  station.turns.back().id = "nobody";
  EXPECT_EQ(found().count("morning-plan"), 1U);
}

TEST_F(BrokenMorning, AMorningThatIsMissingIsFound) {
  programme_.mornings.erase(programme_.mornings.begin());
  EXPECT_EQ(found().count("morning-plan"), 1U);
}

TEST_F(BrokenMorning, APlanThatBreaksATrainingRuleIsFoundByTheSingleChecker) {
  for (Person& person : programme_.people) {
    if (!person.plan.weeks.empty()) person.plan.weeks.front().minutes += 1;
  }
  EXPECT_EQ(found().count("form-minutes"), 1U);
}

// The same squad, the same bytes: nothing hangs on memory or order.
TEST(SquadProperties, TheSameSquadGivesTheSameProgramme) {
  const Knowledge knowledge = knowledge_of("us-army-aft");
  RandomSource first(11);
  RandomSource second(11);
  const Programme a = make_programme(random_squad(first, knowledge.standard, kToday), knowledge, kToday);
  const Programme b = make_programme(random_squad(second, knowledge.standard, kToday), knowledge, kToday);
  EXPECT_EQ(a.optimality.value, b.optimality.value);
  ASSERT_EQ(a.mornings.size(), b.mornings.size());
  for (std::size_t m = 0; m < a.mornings.size(); ++m) {
    ASSERT_EQ(a.mornings[m].stations.size(), b.mornings[m].stations.size());
    for (std::size_t s = 0; s < a.mornings[m].stations.size(); ++s)
      EXPECT_EQ(a.mornings[m].stations[s].turns.size(), b.mornings[m].stations[s].turns.size());
  }
}

// With more kit nobody is worse off in the sum, by the value that the choice is made by.
TEST(SquadProperties, MoreBarsNeverLowerTheValueOfTheSameWeeks) {
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    RandomSource random(seed);
    ChoiceProblem problem = random_choice(random, 10, 8, 3);
    const Choice tight = choose_patterns(problem);
    for (double& capacity : problem.capacity) capacity += 4.0;
    const Choice wide = choose_patterns(problem);
    if (tight.possible) {
      ASSERT_TRUE(wide.possible);
      EXPECT_GE(wide.value, tight.value - 1e-9) << "seed " << seed;
      ++compared;
    }
  }
  EXPECT_GT(compared, 0);
}

}  // namespace
}  // namespace backplan::testing

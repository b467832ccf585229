// What pain takes off, by the rules of data/model/rules.json.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "backplan/journal.hpp"
#include "backplan/rules.hpp"
#include "io/readers.hpp"
#include "property/shipped_data.hpp"
#include "support/journal_entries.hpp"
#include "support/model_files.hpp"

namespace backplan {
namespace {

using support::done;
using support::journal_day;

const Rules& rules() { return testing::shipped_rules(); }

const std::vector<std::string>& all_work() {
  static const std::vector<std::string> ids = [] {
    const Model model = io::read_model(io::embedded_data()).value();
    std::vector<std::string> list;
    for (const WorkKind& kind : model.work) list.push_back(kind.id);
    return list;
  }();
  return ids;
}

std::vector<PainStop> stops_on(int day, const std::vector<Done>& entries) {
  return pain_stops(entries, rules().pain, all_work(), journal_day(day));
}

Done pain(int day, const std::string& where, int level, const std::string& how = {}) {
  return done(day, Pain{where, level, how == "night", how == "limp"});
}

using Words = std::vector<std::string>;

TEST(Pain, OfFourOfTenTakesTheWorkOffAndRefers) {
  const auto stops = stops_on(2, {pain(2, "left knee", 4)});
  ASSERT_EQ(stops.size(), 1U);
  EXPECT_EQ(stops[0].region, "knee");
  EXPECT_EQ(stops[0].work, (Words{"deadlift", "shuttle", "intervals", "tempo", "easy_run"}));
  EXPECT_TRUE(stops[0].refers);
  EXPECT_FALSE(stops[0].emergency);
  EXPECT_EQ(stops[0].level, 4);
  EXPECT_EQ(stops[0].why, "level 4 of 10");
}

TEST(Pain, OfThreeOfTenInAKneeTakesNothingOff) { EXPECT_TRUE(stops_on(2, {pain(2, "knee", 3)}).empty()); }

TEST(Pain, InTheBackTakesDeadliftAndShuttleOffAtAnyLevel) {
  const auto stops = stops_on(2, {pain(2, "Lower-BACK", 1)});
  ASSERT_EQ(stops.size(), 1U);
  EXPECT_EQ(stops[0].work, (Words{"deadlift", "shuttle"}));
  EXPECT_FALSE(stops[0].refers);
}

TEST(Pain, InShinFootHipOrGroinStopsRunsAndShuttleAtNightOrWithALimp) {
  for (const std::string where : {"shin", "right foot", "hip", "groin"}) {
    EXPECT_TRUE(stops_on(2, {pain(2, where, 2)}).empty()) << where;
    for (const std::string how : {"night", "limp"}) {
      const auto stops = stops_on(2, {pain(2, where, 2, how)});
      ASSERT_EQ(stops.size(), 1U) << where;
      EXPECT_EQ(stops[0].work, (Words{"intervals", "tempo", "easy_run", "shuttle"}));
      EXPECT_TRUE(stops[0].refers);
      EXPECT_TRUE(stops_on(2, {pain(2, where, 1, how)}).empty());
    }
  }
}

TEST(Pain, ThatLastsThreeDaysStopsRunsFromTheThirdOn) {
  const std::vector<Done> entries{pain(2, "shin", 2), pain(3, "shin", 2), pain(5, "shin", 3)};
  EXPECT_TRUE(stops_on(4, entries).empty());
  const auto stops = stops_on(5, entries);
  ASSERT_EQ(stops.size(), 1U);
  EXPECT_EQ(stops[0].since, journal_day(5));
  EXPECT_EQ(stops[0].why, "level 2 or more on 3 days");
  // Three entries of one day are one day, and levels under 2 do not count.
  EXPECT_TRUE(stops_on(5, {pain(2, "shin", 2), pain(2, "shin", 2), pain(2, "shin", 3)}).empty());
  EXPECT_TRUE(stops_on(5, {pain(2, "shin", 2), pain(3, "shin", 1), pain(5, "shin", 3)}).empty());
}

TEST(Pain, OverSevenDaysStopsRuns) {
  EXPECT_TRUE(stops_on(9, {pain(2, "shin", 2), pain(7, "shin", 2)}).empty());
  const auto stops = stops_on(9, {pain(2, "shin", 2), pain(8, "shin", 2)});  // the 2nd to the 8th: seven days
  ASSERT_EQ(stops.size(), 1U);
  EXPECT_EQ(stops[0].why, "level 2 or more over 7 days");
}

TEST(Pain, StaysOffUntilItIsGone) {
  std::vector<Done> entries{pain(2, "lower back", 5), pain(3, "back", 1)};
  ASSERT_EQ(stops_on(300, entries).size(), 1U);
  EXPECT_EQ(stops_on(300, entries)[0].level, 5);
  EXPECT_EQ(stops_on(300, entries)[0].since, journal_day(2));
  entries.push_back(pain(9, "back", 0));
  EXPECT_TRUE(stops_on(9, entries).empty());
  EXPECT_EQ(stops_on(8, entries).size(), 1U);  // the day before it was gone
  entries.push_back(pain(11, "back", 1));
  EXPECT_EQ(stops_on(11, entries)[0].since, journal_day(11));
}

TEST(Pain, OfOnePlaceIsNotEndedByAnother) {
  EXPECT_EQ(stops_on(5, {pain(2, "back", 5), pain(3, "knee", 0)}).size(), 1U);
}

TEST(Pain, InTheChestIsAnEmergencyAtAnyLevelAndComesFirst) {
  const auto stops = stops_on(3, {pain(2, "back", 5), pain(3, "chest", 1)});
  ASSERT_EQ(stops.size(), 2U);
  EXPECT_TRUE(stops[0].emergency);
  EXPECT_EQ(stops[0].work, all_work());
}

TEST(Pain, OfAnUnknownPlaceTakesAllWorkOffFromFourOn) {
  EXPECT_TRUE(stops_on(2, {pain(2, "jaw", 3)}).empty());
  const auto stops = stops_on(2, {pain(2, "jaw", 4)});
  ASSERT_EQ(stops.size(), 1U);
  EXPECT_EQ(stops[0].region, "jaw");
  EXPECT_EQ(stops[0].work, all_work());
  EXPECT_TRUE(stops_on(4, {pain(2, "jaw", 4), pain(3, "Jaw", 0)}).empty());
}

TEST(Pain, IsFoundByWholeWordsOnly) {
  EXPECT_EQ(stops_on(2, {pain(2, "backpack strap", 4)})[0].region, "backpack strap");
  EXPECT_EQ(stops_on(2, {pain(2, "back of the knee", 4)})[0].region, "knee");
}

TEST(PainRules, NameOnlyWorkThatThereIs) {
  EXPECT_EQ(rules().pain.refer_from, 4);
  EXPECT_EQ(rules().pain.watch_from, 2);
  EXPECT_GE(rules().pain.regions.size(), 8U);
  for (const PainRegion& region : rules().pain.regions) {
    EXPECT_FALSE(region.words.empty()) << region.id;
    EXPECT_FALSE(region.stops.empty()) << region.id;
    for (const std::string& work : region.stops) {
      EXPECT_EQ(std::count(all_work().begin(), all_work().end(), work), 1) << region.id << " " << work;
    }
  }
}

TEST(PainRules, AreReadStrictly) {
  const auto faults_with = [](const std::string& from, const std::string& to) {
    const auto result = io::read_rules(test::replace_in_file("model/rules.json", from, to));
    return result.ok() ? Diagnostics{} : result.faults();
  };
  EXPECT_EQ(test::only_fault(faults_with("\"refer_from\": 4", "\"refer_from\": 11")).message,
            "expected a whole number from 1 to 10, found the number 11");
  EXPECT_EQ(test::only_fault(faults_with("\"refer_from\": 4", "\"refer_from\": 1")).message,
            "\"watch_from\" is more than \"refer_from\"");
  const auto misspelt = faults_with("\"watched\": true", "\"watcht\": true");
  ASSERT_EQ(misspelt.size(), 2U);  // unknown here, and missing there
  EXPECT_EQ(misspelt[0].hint, "did you mean \"watched\"?");
}

}  // namespace
}  // namespace backplan

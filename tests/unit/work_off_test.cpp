// What may not be done whatever a plan says, and what stands in.
#include "backplan/work_off.hpp"

#include <gtest/gtest.h>

#include <map>
#include <string>
#include <vector>

#include "backplan/rules.hpp"
#include "property/shipped_data.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

const Date kDay = test::day(2026, 12, 7);

const Rules& rules() { return testing::shipped_rules(); }
const Model& model() { return testing::shipped_model(); }

std::map<std::string, WorkOff> off_on(const Candidate& candidate, Date day,
                                      const std::vector<PainStop>& stops = {}) {
  std::map<std::string, WorkOff> out;
  for (const WorkOff& one : work_off(candidate, stops, model(), rules().pain, day)) out[one.work] = one;
  return out;
}

PainStop back() {
  PainStop stop;
  stop.region = "back";
  stop.work = {"deadlift", "shuttle"};
  return stop;
}

TEST(WorkOff, PainTakesItsWorkOffAndNamesWhatStandsIn) {
  const auto off = off_on({}, kDay, {back()});
  ASSERT_EQ(off.size(), 2U);
  EXPECT_EQ(off.at("deadlift").why, "pain (back)");
  EXPECT_EQ(off.at("deadlift").instead, std::vector<std::string>{"trunk"});
  EXPECT_EQ(off.at("shuttle").instead, std::vector<std::string>{"intervals"}) << "the deadlift is off, too";
}

TEST(WorkOff, AProfileLeavesOnlyWhatItPermitsUntilItsLastDay) {
  Candidate candidate;
  candidate.medical.status = MedicalStatus::profile;
  candidate.medical.permitted = {"trunk", "push_up"};
  candidate.medical.until = kDay;
  const auto off = off_on(candidate, kDay);
  EXPECT_EQ(off.size(), model().work.size() - 2);
  EXPECT_EQ(off.count("trunk"), 0U);
  EXPECT_EQ(off.at("intervals").why, "not among what the profile permits");
  EXPECT_TRUE(off.at("intervals").instead.empty()) << "easier runs are not permitted either";
  EXPECT_TRUE(off_on(candidate, kDay + Days(1)).empty());
}

TEST(WorkOff, PregnancyTakesEverythingOffAndSoDoesABirthUntilItIsCleared) {
  Candidate candidate;
  candidate.medical.status = MedicalStatus::pregnant;
  EXPECT_EQ(off_on(candidate, kDay).size(), model().work.size());
  candidate.medical.status = MedicalStatus::postpartum;
  EXPECT_EQ(off_on(candidate, kDay).size(), model().work.size());
  candidate.medical.cleared_on = kDay;
  EXPECT_EQ(off_on(candidate, kDay - Days(1)).size(), model().work.size());
  EXPECT_TRUE(off_on(candidate, kDay).empty());
}

TEST(WorkOff, AvoidedWorkIsOffFromItsFirstDayToItsLast) {
  Candidate candidate;
  candidate.avoid = {{"intervals", kDay, kDay + Days(1), "shin"}};
  EXPECT_TRUE(off_on(candidate, kDay - Days(1)).empty());
  EXPECT_EQ(off_on(candidate, kDay).at("intervals").instead, (std::vector<std::string>{"tempo", "easy_run"}));
  EXPECT_EQ(off_on(candidate, kDay + Days(1)).size(), 1U);
  EXPECT_TRUE(off_on(candidate, kDay + Days(2)).empty());
}

TEST(WorkOff, AProfileThatBeginsLaterTakesNothingOffBefore) {
  Candidate candidate;
  candidate.medical.status = MedicalStatus::profile;
  candidate.medical.since = kDay;
  EXPECT_TRUE(off_on(candidate, kDay - Days(1)).empty());
  EXPECT_EQ(off_on(candidate, kDay).size(), model().work.size());
}

TEST(MainBan, IsWhatKeepsTheWorkOffMostDaysAndNothingThatIsOver) {
  Candidate candidate;
  candidate.avoid = {{"deadlift", kDay - Days(30), kDay - Days(1), "back"}};
  const std::vector<Date> days{kDay, kDay + Days(1), kDay + Days(2)};
  EXPECT_EQ(main_ban({"deadlift"}, candidate, days).by, OffBy::nothing);
  candidate.avoid.push_back({"deadlift", kDay, kDay, "knee"});
  EXPECT_EQ(main_ban({"deadlift"}, candidate, days).by, OffBy::nothing) << "one day of three";
  candidate.avoid.push_back({"deadlift", kDay + Days(2), std::nullopt, "hip"});
  EXPECT_EQ(main_ban({"deadlift"}, candidate, days).by, OffBy::avoided);
  EXPECT_EQ(main_ban({"deadlift"}, candidate, days).why, "knee") << "the first of them";
  candidate.medical.status = MedicalStatus::profile;
  EXPECT_EQ(main_ban({"deadlift"}, candidate, days).by, OffBy::profile);
  EXPECT_EQ(main_ban({"deadlift"}, candidate, {}).by, OffBy::nothing);
}

// The list of data/model/rules.json names kinds that there are, and none in its own place.
TEST(WorkOff, WhatStandsInIsWorkThatTheModelKnows) {
  for (const WorkKind& kind : model().work) {
    EXPECT_EQ(rules().pain.substitutes.count(kind.id), kind.stops_like.empty() ? 1U : 0U) << kind.id;
  }
  for (const auto& [work, others] : rules().pain.substitutes) {
    EXPECT_NE(model().find_work(work), nullptr) << work;
    for (const std::string& other : others) {
      EXPECT_NE(model().find_work(other), nullptr) << other;
      EXPECT_NE(other, work);
    }
  }
}

}  // namespace
}  // namespace backplan

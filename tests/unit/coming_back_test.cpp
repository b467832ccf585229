// Work that comes back after weeks without it, through the whole program (data/model/rules.json, ramp).
#include "core/coming_back.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "io/json_write.hpp"
#include "io/readers.hpp"
#include "io/value_text.hpp"
#include "support/command.hpp"
#include "support/standards.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

using support::army_candidate;
using support::holds;
using support::replaced;
using support::run_command;

// The plan of the candidate of the other tests with these keys more, made on Tue 1 Dec 2026.
io::Json plan_with(const std::string& keys, const std::string& journal = {},
                   const std::string& as_of = "2026-12-01", const std::string& deadlift = {}) {
  const test::TemporaryFolder folder;
  std::string candidate = replaced(army_candidate(), "\"week\"", keys + "\"week\"");
  if (!deadlift.empty()) candidate = replaced(candidate, "170 lb", deadlift);
  folder.write("candidate.json", candidate);
  if (!journal.empty()) folder.write("journal.jsonl", journal);
  const auto answer = run_command({"plan", "--json", "-C", folder.path().string(), "--as-of", as_of});
  EXPECT_TRUE(answer.err.empty()) << answer.err;
  return io::Json::parse(answer.out);
}

struct Week {
  std::string phase;
  int minutes = 0;
  std::vector<io::Json> blocks;
};

Week week_of(const io::Json& plan, int index) {
  Week out;
  for (const auto& week : plan["weeks"]) {
    if (week["index"] != index) continue;
    out.phase = week["phase"];
    out.minutes = week["minutes"];
    for (const auto& day : week["days"]) {
      for (const auto& block : day["blocks"]) out.blocks.push_back(block);
    }
  }
  return out;
}

bool has(const Week& week, const std::string& work) {
  for (const auto& block : week.blocks) {
    if (block["work"] == work) return true;
  }
  return false;
}

// Weeks 14 to 8 before the test and three days of week 7; Thu, Fri and Sat of it are left: 165 minutes.
TEST(ComingBack, AProfileThatPermitsNothingIsARestWithTheRampAfterIt) {
  const io::Json plan = plan_with(
      R"("medical": { "status": "profile", "permitted": [], "until": "2027-01-20" }, "aim": "highest", )");
  EXPECT_EQ(week_of(plan, 9).phase, "blocked");
  EXPECT_EQ(week_of(plan, 9).minutes, 0);
  EXPECT_GT(week_of(plan, 7).minutes, 0);
  EXPECT_LE(week_of(plan, 7).minutes, 99);   // 60 %
  EXPECT_LE(week_of(plan, 6).minutes, 228);  // 80 % of 285
}

// A Wednesday never has time and goes with the spell before it, unless that day has minutes of its own.
TEST(SpellsWithout, EndBeforeADayThatHasMinutesOfItsOwn) {
  Candidate candidate;
  candidate.test_date = test::day(2027, 3, 8);
  candidate.week = {60, 60, 0, 60, 60, 45, 0};
  candidate.blocked.push_back({test::day(2026, 12, 8), test::day(2027, 1, 5), BlockedKind::rest, ""});
  WorkKind trunk;
  trunk.id = "trunk";
  const Date today = test::day(2026, 12, 1);
  EXPECT_EQ(spells_without(candidate, {&trunk}, today).back().to, test::day(2027, 1, 6));
  candidate.days.push_back({test::day(2027, 1, 6), 50, false});
  EXPECT_EQ(spells_without(candidate, {&trunk}, today).back().to, test::day(2027, 1, 5));
}

bool any_before(const io::Json& plan, const std::string& work, const std::string& date) {
  for (const auto& week : plan["weeks"]) {
    for (const auto& day : week["days"]) {
      if (day["date"] >= date) continue;
      for (const auto& block : day["blocks"]) {
        if (block["work"] == work) return true;
      }
    }
  }
  return false;
}

TEST(ComingBack, AProfileThatBeginsLaterTakesNothingOffBefore) {
  const io::Json plan = plan_with(
      R"("medical": { "status": "profile", "permitted": ["push_up", "trunk"], "since": "2027-01-05", )"
      R"("until": "2027-01-22" }, )");
  EXPECT_TRUE(any_before(plan, "intervals", "2027-01-05"));
  EXPECT_TRUE(any_before(plan, "deadlift", "2027-01-05"));
}

// The exact search must know that the other kinds cannot stand on any day: else it tries all packs of them.
TEST(ComingBack, AProfileThatPermitsOneKindIsPlannedAndProven) {
  const io::Json plan =
      plan_with(R"("medical": { "status": "profile", "permitted": ["deadlift"], "until": "2027-01-21" }, )"
                R"("aim": "highest", )");
  EXPECT_TRUE(any_before(plan, "deadlift", "2027-01-21"));
  EXPECT_FALSE(any_before(plan, "trunk", "2027-01-22"));
  EXPECT_TRUE(plan["optimality"]["bound"].is_number());
}

// What is avoided is avoided before a profile begins, too: the planner once thought otherwise, and the
// checker refused the plan.
TEST(ComingBack, WorkThatIsAvoidedBeforeAProfileBeginsComesBackAfterIt) {
  std::string avoid = "\"avoid\": [";
  for (const char* work : {"intervals", "tempo", "easy_run"})
    avoid += std::string(avoid.back() == '[' ? "" : ", ") + R"({ "work": ")" + work +
             R"(", "from": "2026-10-01", "until": "2026-12-10" })";
  const io::Json plan = plan_with(
      avoid + R"(], "medical": { "status": "profile", "since": "2026-11-25", "until": "2027-04-01", )"
              R"("permitted": ["deadlift", "push_up", "shuttle", "trunk", "intervals", "tempo", "easy_run", )"
              R"("throw"] }, )");
  EXPECT_FALSE(plan["weeks"].empty());
}

// At the top of the scale in the deadlift, the plan does none of it for weeks.
TEST(ComingBack, ALiftThatThePlanItselfLeftOutReturnsByTheLightestScheme) {
  const io::Json plan = plan_with(R"("aim": "highest", )", {}, "2026-12-01", "240 lb");
  int sessions = 0;
  Date last = test::day(2026, 12, 1);
  for (const auto& week : plan["weeks"]) {
    for (const auto& day : week["days"]) {
      for (const auto& block : day["blocks"]) {
        if (block["work"] != "deadlift") continue;
        const Date date = *io::read_date(day["date"].get<std::string>()).value;
        if ((date - last).count() > 21) {
          ++sessions;
          EXPECT_TRUE(holds(block["prescription"], "Form first")) << block;
          EXPECT_TRUE(holds(block["why"], "back after weeks without it")) << block;
        }
        last = date;
      }
    }
  }
  EXPECT_GT(sessions, 0) << "the example no longer leaves it out";
}

// Three weeks without minutes, but with the march of every Sunday: the next deload is counted from their end.
// The planner once took them for build weeks, and found nothing by which to measure a deload.
TEST(ComingBack, WeeksWithoutMinutesCountAsARestBeforeTheNextDeload) {
  std::string days = "\"days\": [";
  for (Date date = test::day(2026, 12, 14); date <= test::day(2027, 1, 3); date += Days(1))
    days += std::string(days.back() == '[' ? "" : ", ") + R"({ "date": ")" + io::write_date(date) +
            R"(", "minutes": 0 })";
  const io::Json plan = plan_with(
      days + R"(], "fixed": [ { "day": "sun", "work": "march", "minutes": 100, "distance": "4 mi" } ], )");
  int deloads = 0;
  for (const auto& week : plan["weeks"]) deloads += week["phase"] == "deload" ? 1 : 0;
  EXPECT_EQ(deloads, 1) << plan["weeks"].size() << " weeks";
}

TEST(ComingBack, NobodyIsAdvisedToTrainThroughDaysOnWhichNothingIsPermitted) {
  const io::Json plan =
      plan_with(R"("medical": { "status": "profile", "permitted": [], "until": "2027-01-20" }, )");
  EXPECT_FALSE(plan["enough"].get<bool>());
  EXPECT_FALSE(holds(plan["ways_out"].dump(), "moved to after the test")) << plan["ways_out"];
}

TEST(ComingBack, EverythingAvoidedIsARestAsMuchAsAProfile) {
  std::string avoid = "\"avoid\": [";
  for (const char* work :
       {"deadlift", "push_up", "shuttle", "trunk", "intervals", "tempo", "easy_run", "throw"})
    avoid += std::string(avoid.back() == '[' ? "" : ", ") + R"({ "work": ")" + work +
             R"(", "from": "2026-12-01", "until": "2027-01-03" })";
  const io::Json plan = plan_with(avoid + R"(], "aim": "highest", )");
  EXPECT_EQ(week_of(plan, 11).phase, "blocked");
  EXPECT_EQ(week_of(plan, 10).phase, "blocked");
  EXPECT_GT(week_of(plan, 9).minutes, 0);
  EXPECT_LE(week_of(plan, 9).minutes, 171);  // 60 % of 285
}

TEST(ComingBack, WeeksWithoutMinutesAreARestToo) {
  std::string days = "\"days\": [";
  for (Date date = test::day(2026, 12, 1); date <= test::day(2026, 12, 27); date += Days(1)) {
    const int day = static_cast<int>((date - test::day(2026, 12, 1)).count()) + 1;
    days += std::string(day == 1 ? "" : ", ") + R"({ "date": "2026-12-)" + (day < 10 ? "0" : "") +
            std::to_string(day) + R"(", "minutes": 0 })";
  }
  const io::Json plan = plan_with(days + R"(], "aim": "highest", )");
  EXPECT_GT(week_of(plan, 10).minutes, 0);
  EXPECT_LE(week_of(plan, 10).minutes, 171);
  EXPECT_LE(week_of(plan, 9).minutes, 228);
}

// Push-ups and trunk go on for seven weeks; running and lifting come back on Thu of week 7.
TEST(ComingBack, WorkThatAProfileTookOffReturnsShortEasyAndLight) {
  const io::Json plan = plan_with(
      R"("medical": { "status": "profile", "permitted": ["push_up", "trunk"], "since": "2026-11-10",
          "until": "2027-01-17" }, "aim": "highest", )");
  const Week first = week_of(plan, 7);
  EXPECT_FALSE(has(first, "intervals"));
  EXPECT_FALSE(has(first, "tempo"));
  int returning = 0;
  for (const auto& block : first.blocks) {
    if (block["work"] == "push_up" || block["work"] == "trunk") continue;
    ++returning;
    EXPECT_EQ(block["size"], "short") << block;
    EXPECT_TRUE(holds(block["why"], "back after weeks without it, so gently; ")) << block;
    if (block["work"] == "deadlift") {
      EXPECT_TRUE(holds(block["prescription"], "Form first")) << block;
    }
  }
  EXPECT_GT(returning, 0);
  for (const auto& block : week_of(plan, 6).blocks) {
    if (block["work"] == "deadlift") {
      EXPECT_TRUE(holds(block["prescription"], "Form first")) << block;
    }
  }
}

// Lifts of the days first to last after the return of a candidate whose lifting was off for seven weeks.
struct Lifts {
  int light = 0, usual = 0;
};

Lifts lifts_after(const Rules& rules, int first, int last) {
  const Standard standard = test::shipped_standard("us-army-aft");
  const Model model = io::read_model(io::embedded_data()).value();
  const Date today = test::day(2026, 12, 1);
  const Date back = test::day(2027, 1, 18);
  Candidate candidate =
      io::read_candidate(army_candidate(), "candidate.json", standard, model, today).value();
  candidate.aim = Aim::highest;
  candidate.avoid = {{"deadlift", test::day(2026, 11, 10), back - Days(1), ""}};
  PlanOptions options;
  options.prove = options.ways_out = false;
  const Plan plan = make_plan(candidate, {standard, model, rules}, today, options);
  Lifts out;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.date < back + Days(first) || day.date > back + Days(last)) continue;
      for (const Block& block : day.blocks) {
        if (!block.lift) continue;
        const LiftFigures& lift = *block.lift;
        // The lightest scheme (prescription_lift.cpp): at most 3×5 at up to 65 % of one repetition.
        const bool light =
            lift.sets <= 3 && lift.repetitions == 5 && lift.sets_load.value() <= 0.65 * lift.maximum.value();
        ++(light && lift.slow_anyway ? out.light : out.usual);
      }
    }
  }
  return out;
}

// data/model/rules.json, ramp.coming_back: a week of short blocks and two of the lightest lifts.
TEST(ComingBack, LiftsStayTheLightestInTheSecondWeekAndNoLonger) {
  Rules rules = io::read_rules(io::embedded_data()).value();
  const Lifts second = lifts_after(rules, rules.easy_days_back, rules.form_days_back - 1);
  EXPECT_GT(second.light, 0);
  EXPECT_EQ(second.usual, 0);
  EXPECT_GT(lifts_after(rules, rules.form_days_back, rules.form_days_back + 13).usual, 0);
  const int form_days = rules.form_days_back;
  rules.form_days_back = rules.easy_days_back;
  EXPECT_GT(lifts_after(rules, rules.easy_days_back, form_days - 1).usual, 0)
      << "it is this rule that does it";
}

// Running and lifting come back on Mon of week 6; push-ups went on, so their rehearsal is due.
TEST(ComingBack, WhatElseReturnsTakesNoRehearsalFromPushUpsThatWentOn) {
  const std::string profile =
      R"("medical": { "status": "profile", "permitted": [PERMITTED], "since": "2026-11-10",
          "until": "2027-01-24" }, "aim": "highest", )";
  const auto rehearsals = [&](const std::string& permitted) {
    int found = 0;
    for (const auto& block : week_of(plan_with(replaced(profile, "PERMITTED", permitted)), 6).blocks)
      found += block["work"] == "push_up" && block.value("rehearsal", false) ? 1 : 0;
    return found;
  };
  EXPECT_EQ(rehearsals(R"("push_up", "trunk")"), 1);
  EXPECT_EQ(rehearsals(R"("trunk")"), 0) << "the push-ups themselves come back";
}

// Three weeks that the journal leaves empty, up to yesterday.
TEST(ComingBack, TheFirstWeekAfterThreeWeeksOfIllnessOnRecordHasNoFastRunning) {
  std::string journal = "{\"format\":\"backplan-journal/1\"}\n";
  for (int day = 1; day <= 21; ++day) {
    const std::string two = (day < 10 ? "0" : "") + std::to_string(day);
    journal += R"({"id":"01a216bb-62aa-7ce2-aa7c-0081032ac6)" + two + R"(","date":"2026-12-)" + two +
               R"(","kind":"missed","reason":"flu with fever"})" + "\n";
  }
  const io::Json plan = plan_with(R"("aim": "highest", )", journal, "2026-12-22");
  for (const auto& week : plan["weeks"]) {
    for (const auto& day : week["days"]) {
      if (day["date"].get<std::string>() > "2026-12-28") continue;
      for (const auto& block : day["blocks"]) {
        EXPECT_NE(block["work"], "intervals") << day["date"];
        EXPECT_NE(block["work"], "tempo") << day["date"];
        EXPECT_NE(block["size"], "full") << day["date"];
      }
    }
  }
  EXPECT_GT(week_of(plan, 11).minutes, 0);
}

TEST(ComingBack, SpellsJoinAcrossDaysThatNeverHaveMinutes) {
  Candidate candidate;
  candidate.test_date = test::day(2027, 3, 8);
  candidate.week = {60, 60, 0, 60, 60, 0, 0};
  candidate.blocked = {{test::day(2026, 12, 7), test::day(2026, 12, 11), BlockedKind::rest, ""},
                       {test::day(2026, 12, 14), test::day(2026, 12, 18), BlockedKind::rest, ""}};
  WorkKind kind;
  kind.id = "any";
  const auto spells = spells_without(candidate, {&kind}, test::day(2026, 12, 1));
  ASSERT_EQ(spells.size(), 1U);
  EXPECT_EQ(spells[0].from, test::day(2026, 12, 7));
  EXPECT_EQ(spells[0].to, test::day(2026, 12, 20)) << "the return is on Monday";
}

TEST(ComingBack, ADayOfNothingThatIsBlockedAnywayIsNotCountedTwice) {
  Candidate candidate;
  candidate.test_date = test::day(2027, 3, 8);
  candidate.week.fill(60);
  candidate.blocked = {{test::day(2026, 12, 7), test::day(2026, 12, 8), BlockedKind::light, ""}};
  candidate.avoid = {{"any", test::day(2026, 12, 5), test::day(2026, 12, 10), ""}};
  WorkKind kind;
  kind.id = "any";
  const auto spells = days_of_nothing(candidate, {&kind}, test::day(2026, 12, 1));
  ASSERT_EQ(spells.size(), 2U);
  EXPECT_EQ(spells[0].to, test::day(2026, 12, 6));
  EXPECT_EQ(spells[1].from, test::day(2026, 12, 9));
}

}  // namespace
}  // namespace backplan

// The squad's commands on files, in this process.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <filesystem>

#include "io/programme_json.hpp"
#include "io/value_text.hpp"
#include "support/command.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

using support::Answer;
using support::run_command;

const std::string kSquad = R"({ "format": "backplan-squad/1", "id": "larch", "standard": "us-army-aft",
  "test_date": "2027-01-25", "mornings": { "mon": 70, "tue": 60, "thu": 60, "fri": 60 },
  "equipment": { "hex_bars": 1, "sleds": 1, "kettlebell_pairs": 1 } })";
const std::string kRoster =
    "id,display,birth_date,column,results_date,MDL,HRP,SDC,PLK,2MR\n"
    "L-01,Ash,1999-02-11,male,2026-11-24,200 lb,24,2:18,1:55,21:40\n"
    "L-02,Birch,2001-06-30,male,2026-11-24,280 lb,41,1:52,2:45,16:10\n"
    "L-03,Cedar,1996-09-02,female,2026-11-24,120 lb,12,3:05,1:45,23:20\n";

class SquadCommand : public ::testing::Test {
 protected:
  void SetUp() override {
    folder_.write("squad.json", kSquad);
    folder_.write("roster.csv", kRoster);
  }

  [[nodiscard]] Answer run(std::vector<std::string> words, const std::string& day = "2026-12-01") const {
    words.insert(words.begin(), "squad");
    for (const std::string& one : {std::string("-C"), folder_.path().string(), std::string("--as-of"), day})
      words.push_back(one);
    return run_command(words);
  }

  [[nodiscard]] Programme programme() const {
    return io::read_programme(folder_.read("programme.json"), "programme.json").value();
  }

  test::TemporaryFolder folder_;
};

TEST_F(SquadCommand, WritesAProgrammeThatItReadsAgain) {
  const Answer answer = run({});
  EXPECT_LE(answer.code, 1) << answer.err;
  EXPECT_NE(answer.out.find("Expected to fail:"), std::string::npos);
  const Programme read = programme();
  EXPECT_EQ(read.people.size(), 3U);
  EXPECT_FALSE(read.mornings.empty());
  EXPECT_EQ(read.groups.front().pattern.days[2].size(), 0U);  // no morning on Wednesdays
}

TEST_F(SquadCommand, WhatIsPrintedTakesOffWhatPainHasTakenOff) {
  static_cast<void>(run({}));
  folder_.write("pain.csv", "id,date,where,level\nL-02,2026-12-02,chest,6\n");
  ASSERT_EQ(run({"log", (folder_.path() / "pain.csv").string()}, "2026-12-02").code, 0);
  const std::string stored = folder_.read("programme.json");
  const std::string card = run({"card", "L-02"}, "2026-12-02").out;
  EXPECT_NE(card.find("STOP: this may be an emergency"), std::string::npos) << card;
  EXPECT_NE(card.find("OFF: pain (chest)."), std::string::npos) << card;
  EXPECT_EQ(run({"card", "L-01"}, "2026-12-02").out.find("OFF"), std::string::npos);
  EXPECT_NE(run({"morning", "2026-12-03"}, "2026-12-02").out.find("OFF: pain (chest)."), std::string::npos);
  EXPECT_NE(run({"week", "7"}, "2026-12-02").out.find("; OFF: Birch"), std::string::npos);
  for (const char* kind : {"csv", "ics"}) {
    const Answer out =
        run_command({"export", kind, "-o", "-", "-C", folder_.path().string(), "--as-of", "2026-12-02"});
    EXPECT_NE(out.out.find("OFF: "), std::string::npos) << kind;
  }
  EXPECT_EQ(folder_.read("programme.json"), stored);
}

TEST_F(SquadCommand, GivesTheSameBytesTwice) {
  static_cast<void>(run({}));
  const std::string first = folder_.read("programme.json");
  static_cast<void>(run({}));
  EXPECT_EQ(folder_.read("programme.json"), first);
}

TEST_F(SquadCommand, CheckListsEveryProblemOfBothFiles) {
  folder_.write("squad.json", R"({ "format": "backplan-squad/1", "id": "x", "standard": "us-army-aft",
  "test_date": "2027-01-25", "mornings": { "mon": 999 }, "equipment": {} })");
  folder_.write("roster.csv", "id,birth_date,column\nA,1999-02-31,male\nA,1999-02-11,boat\n");
  const Answer answer = run({"check"});
  EXPECT_EQ(answer.code, 1);
  EXPECT_NE(answer.err.find("squad.json:2:"), std::string::npos) << answer.err;
  EXPECT_NE(answer.err.find("roster.csv:2:3: error:"), std::string::npos) << answer.err;
  EXPECT_NE(answer.err.find("roster.csv:3:1: error: the id \"A\""), std::string::npos) << answer.err;
  EXPECT_NE(answer.err.find("found \"boat\""), std::string::npos) << answer.err;
}

TEST_F(SquadCommand, LogAddsATestDayForAllAndOnlyOnce) {
  const auto table =
      folder_.write("day.csv", "id,date,HRP,2MR\nL-01,2026-12-20,26,21:10\nL-03,2026-12-20,14,\n").string();
  const Answer first = run({"log", table}, "2026-12-21");
  EXPECT_EQ(first.code, 0) << first.err;
  EXPECT_NE(first.out.find("added 3 of 3 entries, for 2 people"), std::string::npos) << first.out;
  const std::string journal = folder_.read("journal.jsonl");
  EXPECT_NE(journal.find("\"who\":\"L-03\""), std::string::npos);
  EXPECT_NE(run({"log", table}, "2026-12-21").out.find("3 are there already"), std::string::npos);
  EXPECT_EQ(folder_.read("journal.jsonl"), journal);
}

// What `log pain chest` says to one person, the table of a squad says of each.
TEST_F(SquadCommand, LogSaysOfEverybodyWhatPainTakesOff) {
  folder_.write("pain.csv", "id,where,level\nL-01,chest,2\nL-02,knee,1\nL-03,lower back,6\n");
  const Answer answer = run({"log", folder_.path() / "pain.csv"});
  ASSERT_EQ(answer.code, 0) << answer.err;
  EXPECT_NE(answer.out.find("L-01:\nSTOP: this may be an emergency."), std::string::npos) << answer.out;
  EXPECT_NE(answer.out.find("L-02: no work is off because of pain\n"), std::string::npos) << answer.out;
  EXPECT_NE(answer.out.find("L-03:\nOff because of pain (back"), std::string::npos) << answer.out;
  EXPECT_NE(answer.out.find("See licensed medical staff"), std::string::npos) << answer.out;
  EXPECT_EQ(answer.out.find("backplan log pain"), std::string::npos) << answer.out;
}

TEST_F(SquadCommand, LogTellsABadDateOnce) {
  folder_.write("day.csv", "id,date,HRP,SDC,PLK\nL-01,2026-13-01,30,2:10,2:00\n");
  const Answer answer = run({"log", folder_.path() / "day.csv"});
  EXPECT_EQ(answer.code, 65);
  EXPECT_EQ(answer.err.find("2:6: error"), answer.err.rfind("2:6: error")) << answer.err;
  EXPECT_NE(answer.err.find("2:6: error"), std::string::npos) << answer.err;
}

TEST_F(SquadCommand, AFolderInThePlaceOfTheJournalIsNoEmptyJournal) {
  std::filesystem::create_directory(folder_.path() / "journal.jsonl");
  EXPECT_EQ(run({"check"}).code, 74);
  EXPECT_EQ(run({}).code, 74);
}

TEST_F(SquadCommand, CheckSaysWhatIsAvoidedAndCountsOnePerson) {
  folder_.write("roster.csv",
                "id,birth_date,column,avoid\n"
                "L-01,1999-02-11,male,intervals+shuttle until 2026-12-20\n");
  const Answer answer = run({"check"});
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_NE(answer.out.find("1 person,"), std::string::npos) << answer.out;
  EXPECT_NE(answer.out.find("L-01 avoids intervals until Sun 20 Dec 2026, shuttle until Sun 20 Dec 2026"),
            std::string::npos)
      << answer.out;
}

TEST_F(SquadCommand, AStandardThatIsMissingOrUnknownHidesNoOtherFault) {
  folder_.write("roster.csv", "id,birth_date,column\nA,1999-02-31,male\n");
  folder_.write("squad.json", "{ \"format\": \"backplan-squad/9\", \"id\": 5, \"goal\": \"win\" }");
  const Answer missing = run({"check"});
  for (const char* part : {"the key \"standard\" is missing", "/format", "/id", "/goal", "roster.csv:2:3"})
    EXPECT_NE(missing.err.find(part), std::string::npos) << part << "\n" << missing.err;
  folder_.write("squad.json", "{ \"format\": \"backplan-squad/1\",\n\"standard\": \"us-army-afk\" }");
  const Answer unknown = run({"check"});
  for (const char* part :
       {"squad.json:2:13: error: unknown standard \"us-army-afk\"", "\"id\" is missing", "roster.csv:2:3"})
    EXPECT_NE(unknown.err.find(part), std::string::npos) << part << "\n" << unknown.err;
  EXPECT_EQ(unknown.err.find("expected one of us-army-aft"), std::string::npos) << unknown.err;
}

TEST_F(SquadCommand, AWeekThatIsNotThereIsAUsageError) {
  ASSERT_LE(run({}).code, 1);
  EXPECT_EQ(run({"week", "99"}).code, 2);
  EXPECT_EQ(run({"week", "2"}).code, 0);
}

TEST_F(SquadCommand, ADamagedProgrammeIsMadeAnew) {
  ASSERT_LE(run({}).code, 1);
  const std::string whole = folder_.read("programme.json");
  const std::string size = "\"size\": \"";  // of a turn
  const std::size_t in_a_turn = whole.find(size, whole.find("\"mornings\"")) + size.size();
  for (const std::string& damaged : {support::replaced(whole, "fewest failing", "fewest fainting"),
                                     std::string(whole).insert(in_a_turn, "x")}) {
    folder_.write("programme.json", damaged);
    const Answer answer = run({"week"});
    EXPECT_EQ(answer.code, 65);
    EXPECT_NE(answer.err.find("unknown word"), std::string::npos) << answer.err;
    EXPECT_NE(answer.err.find("`backplan squad` makes it anew"), std::string::npos) << answer.err;
  }
}

TEST_F(SquadCommand, ExtractSaysWhatStaysBehindAndWhatIsMissing) {
  folder_.write("roster.csv", "id,display,birth_date,column\nL-01,Ash,1999-02-11,male\n");
  const Answer answer = run({"extract", "L-01", (folder_.path() / "gone").string()});
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_NE(answer.err.find("the display name, Ash, stays behind"), std::string::npos) << answer.err;
  EXPECT_NE(answer.err.find("has no result"), std::string::npos) << answer.err;
}

TEST_F(SquadCommand, LogAddsNothingWhenOneCellIsWrong) {
  const auto table =
      folder_.write("day.csv", "id,date,HRP\nL-01,2026-12-20,26\nL-09,2026-12-20,14\nL-02,2026-12-20,9999\n")
          .string();
  const Answer answer = run({"log", table}, "2026-12-21");
  EXPECT_EQ(answer.code, 65);
  EXPECT_NE(answer.err.find("day.csv:3:1: error: nobody of the roster has the id \"L-09\""),
            std::string::npos)
      << answer.err;
  EXPECT_NE(answer.err.find("day.csv:4:"), std::string::npos) << answer.err;
  EXPECT_EQ(folder_.read("journal.jsonl"), "");
}

TEST_F(SquadCommand, LogAsksAboutALoadThatFitsOnlyInTheOtherUnit) {
  const auto table = folder_.write("day.csv", "id,date,MDL\nL-01,2026-12-20,160 kg\n").string();
  const Answer asked = run({"log", table}, "2026-12-21");
  EXPECT_EQ(asked.code, 65);
  EXPECT_NE(asked.err.find("day.csv:2:17: error: \"160 kg\" would read as"), std::string::npos) << asked.err;
  EXPECT_NE(asked.err.find("did you mean \"160 lb\"?"), std::string::npos) << asked.err;
  EXPECT_EQ(folder_.read("journal.jsonl"), "");
  const Answer sure = run({"log", table, "--sure"}, "2026-12-21");
  EXPECT_EQ(sure.code, 0) << sure.err;
  EXPECT_NE(sure.out.find("added 1 of 1"), std::string::npos) << sure.out;
}

TEST_F(SquadCommand, AnUnfinishedImportDoesNotCountForAnybody) {
  folder_.write("journal.jsonl",
                "{\"format\":\"backplan-journal/1\"}\n"
                "{\"who\":\"L-01\",\"id\":\"00000000-0000-7000-8000-000000000001\",\"date\":\"2026-12-20\","
                "\"kind\":\"result\","
                "\"event\":\"HRP\",\"value\":\"60\",\"setting\":\"record\",\"batch\":\"00000000-0000-7000-"
                "8000-00000000000b\"}\n");
  const Answer answer = run({"check"}, "2026-12-21");
  EXPECT_EQ(answer.code, 1);
  EXPECT_NE(answer.err.find("journal.jsonl:2:1: warning:"), std::string::npos) << answer.err;
}

TEST_F(SquadCommand, ReplanKeepsPastMorningsAndChangesNothingTheSecondTime) {
  static_cast<void>(run({}));
  const Programme before = programme();
  const Answer first = run({"replan"}, "2026-12-15");
  EXPECT_LE(first.code, 1) << first.err;
  const std::string bytes = folder_.read("programme.json");
  EXPECT_EQ(programme().mornings.front().date, before.mornings.front().date);
  EXPECT_NE(run({"replan"}, "2026-12-15").out.find("Nothing has changed"), std::string::npos);
  EXPECT_EQ(folder_.read("programme.json"), bytes);
}

TEST_F(SquadCommand, PlanningAfreshKeepsPastMorningsToo) {
  static_cast<void>(run({}));
  const Date first = programme().mornings.front().date;
  EXPECT_LE(run({}, "2026-12-15").code, 1);
  EXPECT_EQ(programme().mornings.front().date, first);
  EXPECT_EQ(programme().as_of, io::read_date("2026-12-15").value.value());
}

TEST_F(SquadCommand, ReplanNamesWhoJoinsAndWhoLeaves) {
  static_cast<void>(run({}));
  std::string roster = kRoster;
  roster.erase(roster.find("L-02"), roster.find("L-03") - roster.find("L-02"));
  folder_.write("roster.csv", roster + "L-04,Elder,2003-01-19,male,2026-11-24,160 lb,15,2:32,1:35,22:40\n");
  const Answer answer = run({"replan"}, "2026-12-08");
  EXPECT_NE(answer.out.find("L-04: joins group"), std::string::npos) << answer.out;
  EXPECT_NE(answer.out.find("L-02: has left the roster"), std::string::npos) << answer.out;
}

TEST_F(SquadCommand, APersonMovesWithFolderAndJournal) {
  const auto table = folder_.write("day.csv", "id,date,HRP\nL-01,2026-12-20,26\n").string();
  static_cast<void>(run({"log", table}, "2026-12-21"));
  const std::string own = (folder_.path() / "own").string();
  const Answer extracted = run({"extract", "L-01", own}, "2026-12-21");
  EXPECT_EQ(extracted.code, 0) << extracted.err;
  EXPECT_NE(extracted.out.find("and 1 journal entry; "), std::string::npos) << extracted.out;
  EXPECT_NE(folder_.read("own/candidate.json").find("\"id\": \"L-01\""), std::string::npos);
  EXPECT_EQ(folder_.read("own/journal.jsonl").find("who"), std::string::npos);
  EXPECT_LE(run_command({"plan", "-C", own, "--as-of", "2026-12-21"}).code, 1);

  const test::TemporaryFolder other;
  other.write("squad.json", kSquad);
  other.write("roster.csv", "id;birth_date;column\nX-1;2000-01-01;female\n");
  const Answer taken =
      run_command({"squad", "take", own, "-C", other.path().string(), "--as-of", "2026-12-21"});
  EXPECT_EQ(taken.code, 0) << taken.err;
  EXPECT_NE(other.read("roster.csv").find("L-01;1999-02-11;male"), std::string::npos)
      << other.read("roster.csv");
  EXPECT_NE(other.read("journal.jsonl").find("\"who\":\"L-01\""), std::string::npos);
  EXPECT_EQ(run_command({"squad", "check", "-C", other.path().string(), "--as-of", "2026-12-21"}).code, 0);
}

TEST_F(SquadCommand, NoBarsAreSaidAndLeaveTheDeadliftOut) {
  std::string text = kSquad;
  text.replace(text.find("\"hex_bars\": 1"), 13, "\"hex_bars\": 0");
  folder_.write("squad.json", text);
  const Answer answer = run({});
  EXPECT_LE(answer.code, 1) << answer.err;
  EXPECT_NE(answer.out.find("No hex bar: the deadlift is not trained"), std::string::npos) << answer.out;
  EXPECT_EQ(folder_.read("programme.json").find("\"work\": \"deadlift\",\n     \"lane\""), std::string::npos);
}

TEST_F(SquadCommand, MorningsOfFiveMinutesHoldNothingAndSaySo) {
  std::string text = kSquad;
  text.replace(text.find("{ \"mon\": 70, \"tue\": 60, \"thu\": 60, \"fri\": 60 }"), 46,
               "{ \"mon\": 5, \"tue\": 5 }");
  folder_.write("squad.json", text);
  const Answer answer = run({});
  EXPECT_LE(answer.code, 1) << answer.err;
  EXPECT_NE(answer.out.find("No common morning holds any training"), std::string::npos) << answer.out;
}

TEST_F(SquadCommand, ATestInThreeDaysIsAProgrammeWithoutTraining) {
  const Answer answer = run({}, "2027-01-22");
  EXPECT_LE(answer.code, 1) << answer.err;
  EXPECT_TRUE(programme().mornings.empty());
}

TEST_F(SquadCommand, SomebodyPregnantIsReferredAndInNoGroup) {
  folder_.write("roster.csv",
                "id,birth_date,column,medical\nA,1999-02-11,female,pregnant\nB,1999-02-11,male,\n");
  const Answer answer = run({});
  EXPECT_EQ(answer.code, 1);
  EXPECT_NE(answer.out.find("A: referred;"), std::string::npos) << answer.out;
  EXPECT_EQ(programme().people[0].group, "");
  EXPECT_TRUE(
      programme().people[0].notes.empty());  // nothing was measured, but nobody asks her for an attempt
  EXPECT_EQ(programme().people[1].group, "A");
}

TEST_F(SquadCommand, WhoIsReferredIsNotCountedAnywhere) {
  folder_.write("roster.csv", kRoster +
                                  "L-04,Elder,2003-01-19,female,2026-11-24,340 lb,60,1:29,3:40,13:20\n"
                                  "L-05,Fir,2003-01-19,female,2026-11-24,340 lb,60,1:29,3:40,13:20\n");
  std::string roster = folder_.read("roster.csv");
  for (std::size_t at = 0; (at = roster.find('\n', at)) != std::string::npos; at += 2) roster.insert(at, ",");
  roster.insert(roster.find('\n'), "medical");
  for (const char* id : {"L-04", "L-05"}) roster.insert(roster.find('\n', roster.find(id)), "pregnant");
  folder_.write("roster.csv", roster);
  const Answer answer = run({});
  EXPECT_NE(answer.out.find(" of 3; 8 in 10 between"), std::string::npos) << answer.out;
  EXPECT_NE(answer.out.find("2 referred to medical staff: not counted."), std::string::npos) << answer.out;
  const Programme read = programme();
  double failing = 0.0;
  double points = 0.0;
  for (const Person& person : read.people) {
    if (!person.refused.empty()) continue;
    failing += person.p_fail;
    points += person.outlook.total.mean / 3.0;
  }
  EXPECT_NEAR(read.outlook.expected_failing, failing, 0.01);
  EXPECT_NEAR(read.outlook.mean.mean, points, 0.2);
  EXPECT_NE(folder_.read("programme.json").find("\"p_fail\": null"), std::string::npos);
  const Answer page =
      run_command({"export", "html", "-o", "-", "-C", folder_.path().string(), "--as-of", "2026-12-01"});
  EXPECT_NE(page.out.find(" of 3 would pass"), std::string::npos);
  EXPECT_NE(page.out.find("2 referred to medical staff: not counted."), std::string::npos);
}

TEST_F(SquadCommand, WhoseOwnTestIsOverIsDoneAndTheOthersArePlanned) {
  std::string roster = kRoster;
  for (std::size_t at = 0; (at = roster.find('\n', at)) != std::string::npos; at += 2) roster.insert(at, ",");
  roster.insert(roster.find('\n'), "test_date");
  roster.insert(roster.find('\n', roster.find("L-01")), "2026-12-20");
  roster.insert(roster.find('\n', roster.find("L-03")), "2027-03-01");
  folder_.write("roster.csv", roster);
  EXPECT_LE(run({}).code, 1);
  const Answer answer = run({}, "2026-12-21");
  EXPECT_LE(answer.code, 1) << answer.err;
  EXPECT_NE(answer.out.find(" of 2; 8 in 10 between"), std::string::npos) << answer.out;
  EXPECT_NE(answer.out.find("1 tested already: not counted."), std::string::npos) << answer.out;
  EXPECT_TRUE(programme().people[0].done);
  for (const Morning& morning : programme().mornings) {
    for (const Station& station : morning.stations) {
      for (const Turn& turn : station.turns)
        EXPECT_FALSE(turn.id == "L-01" && morning.date > io::read_date("2026-12-20").value.value());
    }
  }
  EXPECT_NE(run({"card", "L-01"}, "2026-12-21").out.find("nothing is planned any more"), std::string::npos);
}

// The squad's day is over, somebody's make-up date is not: weeks count back from that.
TEST_F(SquadCommand, WeeksCountBackFromTheLastTest) {
  std::string roster = kRoster;
  for (std::size_t at = 0; (at = roster.find('\n', at)) != std::string::npos; at += 2) roster.insert(at, ",");
  roster.insert(roster.find('\n'), "test_date");
  roster.insert(roster.find('\n', roster.find("L-03")), "2027-03-01");
  folder_.write("roster.csv", roster);
  const Answer answer = run({}, "2027-01-27");
  EXPECT_LE(answer.code, 1) << answer.err;
  EXPECT_NE(answer.out.find("Week 5 before the last test, on Mon 1 Mar 2027"), std::string::npos)
      << answer.out;
  EXPECT_EQ(run({"week", "2"}, "2027-01-27").out.find("no common morning"), std::string::npos);
  const std::string folder = folder_.path().string();
  const Answer page =
      run_command({"export", "html", "-o", "-", "--week", "2", "-C", folder, "--as-of", "2027-01-27"});
  EXPECT_EQ(page.code, 0) << page.err;
  EXPECT_NE(page.out.find("morning-2027-02-16"), std::string::npos);
  const Answer over = run({}, "2027-03-02");
  EXPECT_EQ(over.code, 65);
  EXPECT_NE(over.err.find("the test on Mon 25 Jan 2027 is in the past"), std::string::npos) << over.err;
}

TEST_F(SquadCommand, ANoteOfForbiddenWorkNamesOnlyWhatIsDoneMeanwhile) {
  folder_.write("roster.csv",
                "id,birth_date,column,medical\n"
                "A,1999-02-11,female,profile until 2026-12-20 permits push_up+trunk\nB,1999-02-11,male,\n");
  static_cast<void>(run({}));
  bool met = false;
  const Programme read = programme();
  for (const std::string& note : read.people[0].notes) {
    const std::size_t instead = note.find("instead: ");
    if (note.rfind("not for now", 0) != 0 || instead == std::string::npos) continue;
    met = true;
    EXPECT_NE(note.find("(until Sun 20 Dec 2026)"), std::string::npos) << note;
    for (const char* word : {" run", "intervals", "deadlift", "shuttle"})
      EXPECT_EQ(note.find(word, instead), std::string::npos) << note;
  }
  EXPECT_TRUE(met);
}

TEST_F(SquadCommand, TwoPeopleOfOneNameAreToldApartOnTheSheets) {
  std::string roster = kRoster;
  roster.replace(roster.find("Birch"), 5, "Ash");
  folder_.write("roster.csv", roster);
  static_cast<void>(run({}));
  const Answer morning = run({"morning", "2026-12-01"});
  EXPECT_NE(morning.out.find("Ash (L-01)"), std::string::npos) << morning.out;
  EXPECT_NE(morning.out.find("Ash (L-02)"), std::string::npos) << morning.out;
}

TEST_F(SquadCommand, TheProgrammeKeepsTheSizeOfEveryBlock) {
  static_cast<void>(run({}));
  for (const Morning& morning : programme().mornings) {
    for (const Station& station : morning.stations) {
      for (const Turn& turn : station.turns) EXPECT_TRUE(turn.size) << station.work;
    }
  }
  std::string old = folder_.read("programme.json");
  for (const char* size : {"full", "short"}) {
    const std::string key = std::string("\"size\": \"") + size + "\"";
    for (std::size_t at = old.find("\"mornings\""); (at = old.find(key, at)) != std::string::npos;)
      old.replace(at, key.size(), "\"older\": true");
  }
  const auto read = io::read_programme(old, "programme.json");
  ASSERT_TRUE(read.ok());
  EXPECT_FALSE(read.value().mornings.front().stations.front().turns.front().size);
}

TEST_F(SquadCommand, AProfileGetsWhatItPermitsOrAReferral) {
  folder_.write("roster.csv",
                "id,birth_date,column,medical\nA,1999-02-11,female,profile until 2027-01-20 permits trunk\n"
                "C,1999-02-11,female,profile until 2027-01-20\nB,1999-02-11,male,\n");
  static_cast<void>(run({}));
  const Programme read = programme();
  for (const Morning& morning : read.mornings) {
    for (const Station& station : morning.stations) {
      for (const Turn& turn : station.turns) {
        EXPECT_TRUE(turn.id != "A" || station.work == "trunk") << station.work;
        EXPECT_FALSE(turn.id == "C" &&
                     morning.date < std::chrono::sys_days{std::chrono::year{2027} / 1 / 20});
      }
    }
  }
  ASSERT_FALSE(read.people[1].notes.empty());
  EXPECT_NE(read.people[1].notes.front().find("ask the medical staff"), std::string::npos);
}

TEST_F(SquadCommand, CardAndMorningNameWhatIsNotThere) {
  static_cast<void>(run({}));
  EXPECT_EQ(run({"card", "L-1"}).code, 2);
  EXPECT_NE(run({"card", "L-1"}).err.find("did you mean \"L-01\"?"), std::string::npos);
  EXPECT_EQ(run({"morning", "2026-12-02"}).code, 2);  // a Wednesday
  EXPECT_NE(run({"morning", "2026-12-02"}).err.find("the next one is on Thu 3 Dec 2026"), std::string::npos);
  EXPECT_EQ(run({"week"}).code, 0);
  EXPECT_EQ(run({"card", "L-01", "--json"}).code, 0);
}

TEST_F(SquadCommand, WithoutFilesItSaysWhatASquadNeeds) {
  const test::TemporaryFolder empty;
  const Answer answer = run_command({"squad", "-C", empty.path().string()});
  EXPECT_EQ(answer.code, 66);
  EXPECT_NE(answer.err.find("squad.json"), std::string::npos);
  EXPECT_EQ(empty.names(), "");
}

}  // namespace
}  // namespace backplan

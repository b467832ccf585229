// squad.json and roster.csv: what is read, and what is refused in which words.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <chrono>

#include "io/roster_table.hpp"
#include "io/squad_reader.hpp"
#include "io/value_text.hpp"
#include "property/shipped_data.hpp"
#include "support/text.hpp"

namespace backplan::io {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 12 / 1};

const std::string kSquad = R"({ "format": "backplan-squad/1", "id": "larch", "standard": "us-army-aft",
  "test_date": "2027-02-22", "mornings": { "mon": 70, "thu": 60 },
  "equipment": { "hex_bars": 2, "plates_lb": [45, 45, 10, 10], "sleds": 1, "kettlebell_pairs": 1 } })";

Result<SquadFrame> squad(const std::string& text) {
  return read_squad(text, "squad.json", testing::shipped_standard("us-army-aft"), testing::shipped_model(),
                    kToday);
}

Result<Squad> roster(const std::string& text) {
  return read_roster(text, "roster.csv", squad(kSquad).value(), testing::shipped_standard("us-army-aft"),
                     testing::shipped_model(), kToday);
}

std::string faults_of(const std::string& text) {
  std::string out;
  const auto read = roster(text);
  if (read.ok()) return "none";
  for (const Diagnostic& fault : read.faults())
    out += fmt::format("{}:{} {}: {}\n", fault.line, fault.column, fault.field, fault.message);
  return out;
}

TEST(SquadReader, GivesEverybodyTheMorningsAndTheKit) {
  const auto read = squad(kSquad);
  ASSERT_TRUE(read.ok());
  EXPECT_EQ(read.value().squad.mornings, (std::array<int, 7>{70, 0, 0, 60, 0, 0, 0}));
  EXPECT_EQ(read.value().common.week, read.value().squad.mornings);
  EXPECT_TRUE(read.value().common.equipment.hex_bar);
  EXPECT_TRUE(read.value().common.equipment.sled);
  EXPECT_FALSE(read.value().common.equipment.throw_ball);
  EXPECT_EQ(read.value().squad.most_groups, 3);
  EXPECT_EQ(read.value().squad.goal, SquadGoal::fewest_failing);
  EXPECT_TRUE(read.value().squad.pooling);
}

TEST(SquadReader, ReadsGroupsAsANumberOrAsBestUpTo) {
  const auto with = [](const std::string& groups) {
    std::string text = kSquad;
    text.insert(text.rfind('}'), ", \"groups\": " + groups);
    return squad(text);
  };
  ASSERT_TRUE(with("2").ok());
  EXPECT_TRUE(with("2").value().squad.exactly);
  ASSERT_TRUE(with("\"best up to 5\"").ok());
  EXPECT_EQ(with("\"best up to 5\"").value().squad.most_groups, 5);
  EXPECT_FALSE(with("\"best up to 5\"").value().squad.exactly);
  for (const char* wrong : {"0", "13", "\"best\"", "\"best up to 0\"", "\"best up to 2.5\"", "true"})
    EXPECT_FALSE(with(wrong).ok()) << wrong;
}

TEST(SquadReader, TellsAllFaultsAtOnceWithTheirPlaces) {
  const auto read = squad(R"({ "format": "backplan-squad/1", "id": "larch", "standard": "us-army-aft",
  "test_date": "2026-11-01", "mornings": { "mon": 700 },
  "equipment": { "bars": 2 }, "goal": "all" })");
  ASSERT_FALSE(read.ok());
  std::string all;
  for (const Diagnostic& fault : read.faults()) all += to_string(fault) + "\n";
  EXPECT_NE(all.find("squad.json:2:16: error: the test on Sun 1 Nov 2026 is in the past"), std::string::npos)
      << all;
  EXPECT_NE(all.find("/mornings/mon"), std::string::npos) << all;
  EXPECT_NE(all.find("bars"), std::string::npos) << all;
  EXPECT_NE(all.find("/goal"), std::string::npos) << all;
}

TEST(RosterReader, ReadsWhatASpreadsheetGives) {
  const auto read = roster(
      "\xEF\xBB\xBFid;display;birth_date;column;results_date;MDL;2MR;avoid;medical;absent;target\r\n"
      "L-01;Ash;1999-02-11;male;2026-11-24;92,5 kg;18:40;intervals until 2026-12-20;;2027-01-04 to "
      "2027-01-08;440\r\n"
      "L-02;;2000-05-02;female;;;;;profile until 2026-12-24 permits push_up+trunk;;\r\n"
      ";;;;;;;;;;\r\n");
  ASSERT_TRUE(read.ok()) << to_string(read.faults().front());
  ASSERT_EQ(read.value().members.size(), 2U);
  const Member& ash = read.value().members[0];
  EXPECT_EQ(ash.display, "Ash");
  ASSERT_EQ(ash.candidate.results.size(), 2U);
  EXPECT_EQ(ash.candidate.results[0].event, "2MR");
  EXPECT_DOUBLE_EQ(ash.candidate.results[0].value, 1120.0);
  EXPECT_EQ(ash.candidate.results[1].as_typed, "92.5 kg");
  ASSERT_EQ(ash.candidate.avoid.size(), 1U);
  EXPECT_EQ(ash.candidate.avoid[0].work, "intervals");
  ASSERT_EQ(ash.candidate.blocked.size(), 1U);
  EXPECT_EQ(*ash.candidate.target.total, Points::whole(440));
  const Member& second = read.value().members[1];
  EXPECT_EQ(second.display, "L-02");
  EXPECT_TRUE(second.candidate.results.empty());
  EXPECT_EQ(second.candidate.medical.status, MedicalStatus::profile);
  EXPECT_EQ(second.candidate.medical.permitted.size(), 2U);
  EXPECT_EQ(*second.candidate.target.each, Points::whole(60));  // passing, where no target is given
}

TEST(RosterReader, RefusesTwoPeopleOfOneId) {
  EXPECT_EQ(faults_of("id,birth_date,column\nA,1999-02-11,male\nB,1999-02-11,male\nA,1999-02-11,male\n"),
            "4:1 id: the id \"A\" stands in line 2 already\n");
}

TEST(RosterReader, NamesMissingAndUnknownColumns) {
  EXPECT_EQ(faults_of("id,colum\nA,male\n"),
            "1:1 : the column \"birth_date\" is missing\n"
            "1:1 : the column \"column\" is missing\n"
            "1:4 : unknown column \"colum\"\n");
}

TEST(RosterReader, NamesAnImpossibleResultInLine37) {
  std::string text = "id,birth_date,column,results_date,HRP\n";
  for (int line = 2; line <= 40; ++line)
    text += fmt::format("P-{},1999-02-11,male,2026-11-24,{}\n", line, line == 37 ? 4000 : 30);
  const std::string faults = faults_of(text);
  EXPECT_EQ(faults.rfind("37:33 HRP: ", 0), 0U) << faults;
  EXPECT_EQ(std::count(faults.begin(), faults.end(), '\n'), 1);
}

TEST(RosterReader, WantsADateForResults) {
  EXPECT_EQ(faults_of("id,birth_date,column,HRP\nA,1999-02-11,male,30\n"),
            "2:19 HRP: a result without a date\n");
}

TEST(RosterReader, OneBadDateHidesNoOtherFaultOfTheRow) {
  const std::string faults = faults_of(
      "id,birth_date,column,category,background,results_date,setting,avoid,medical,target,MDL,2MR\n"
      "L-1,1999-02-31,boat,cook,old,2027-13-01,guess,running,ill,many,heavy,fast\n");
  for (const char* field : {"birth_date", "column", "category", "background", "results_date", "setting",
                            "avoid", "medical", "target", "MDL", "2MR"})
    EXPECT_NE(faults.find(fmt::format(" {}: ", field)), std::string::npos) << field << "\n" << faults;
}

TEST(RosterReader, AnUnknownColumnHidesNoFaultOfACell) {
  const std::string faults = faults_of(
      "id,birth_date,column,resluts_date,2MR\nL-1,1999-02-31,male,2026-11-24,fast\nL-2,1999-02-11,male,,16:"
      "10\n");
  EXPECT_NE(faults.find("unknown column"), std::string::npos) << faults;
  EXPECT_NE(faults.find("2:5 birth_date"), std::string::npos) << faults;
  EXPECT_NE(faults.find(" 2MR: "), std::string::npos) << faults;
  EXPECT_EQ(faults.find("a result without a date"), std::string::npos) << faults;
}

TEST(RosterReader, ADateOfWhatIsAvoidedIsThatOfAllKindsBeforeIt) {
  const auto avoided = [](const std::string& cell) {
    const auto read = roster("id,birth_date,column,avoid\nL-1,1999-02-11,male," + cell + "\n");
    std::string text;
    for (const Avoid& one : read.value().members.front().candidate.avoid)
      text += one.work + (one.until ? " " + write_date(*one.until) : "") + ";";
    return text;
  };
  EXPECT_EQ(avoided("intervals+shuttle until 2026-12-20"), "intervals 2026-12-20;shuttle 2026-12-20;");
  EXPECT_EQ(avoided("tempo until 2026-12-10+intervals+shuttle until 2026-12-20"),
            "tempo 2026-12-10;intervals 2026-12-20;shuttle 2026-12-20;");
  EXPECT_EQ(avoided("intervals until 2026-12-20+shuttle"), "intervals 2026-12-20;shuttle;");
}

TEST(RosterReader, RefusesATargetUnderNothing) {
  const std::string start = "id,birth_date,column,target\nL-1,1999-02-11,male,";
  EXPECT_EQ(faults_of(start + "-5\n"), "2:21 target: a target of -5 points; it begins at 0\n");
  EXPECT_EQ(faults_of(start + "440 each -5\n"), "2:21 target: a target of -5 points; it begins at 0\n");
  EXPECT_EQ(faults_of(start + "440 each 60\n"), "none");
}

TEST(RosterReader, RefusesNamesThatAreLongOrSteerATerminal) {
  const std::string start = "id,birth_date,column,display\n";
  const auto begins = [](const std::string& text) { return text.substr(0, text.find(':', 2)); };
  EXPECT_EQ(begins(faults_of(start + "L-1,1999-02-11,male," + std::string(100'000, 'x') + "\n")),
            "2:21 display");
  EXPECT_EQ(faults_of(start + "L-1,1999-02-11,male," + std::string(100, 'x') + "\n"), "none");
  EXPECT_EQ(begins(faults_of(start + "L\xC2\x9B"
                                     "1,1999-02-11,male,\n")),
            "2:1 id");
}

TEST(RosterReader, RefusesFiveThousandRows) {
  std::string text = "id,birth_date,column\n";
  for (int i = 0; i < 5000; ++i) text += fmt::format("P-{},1999-02-11,male\n", i);
  EXPECT_EQ(faults_of(text), "5001:1 : 5000 people; a squad has at most 300\n");
}

TEST(RosterReader, RefusesWordsItDoesNotKnow) {
  EXPECT_EQ(faults_of("id,birth_date,column,background,setting,avoid,medical,target\n"
                      "A,1999-02-11,man,old,today,swimming,ill,many\n"),
            "2:14 column: expected one of male, female, found \"man\"\n"
            "2:18 background: expected one of new, regular, long, found \"old\"\n"
            "2:22 setting: expected one of record, practice, single, self, estimate, found \"today\"\n"
            "2:28 avoid: unknown work kind \"swimming\"\n"
            "2:37 medical: \"ill\" is no medical status\n"
            "2:41 target: \"many\" is no number of points\n");
}

TEST(RosterReader, ReadsFormulasAsTexts) {
  const auto read = roster("id,display,birth_date,column\n'=1+1,=HYPERLINK(0),1999-02-11,male\n");
  ASSERT_TRUE(read.ok());
  EXPECT_EQ(read.value().members[0].candidate.id, "=1+1");
  EXPECT_EQ(read.value().members[0].display, "=HYPERLINK(0)");
}

TEST(RosterTable, WritesNoCellThatASpreadsheetWouldRun) {
  const std::string text = "id,birth_date,column\nA,1999-02-11,male\n";
  const auto read = roster(text);
  ASSERT_TRUE(read.ok());
  Candidate candidate = read.value().members[0].candidate;
  for (const std::string id : {"=1+1", "+1", "-1", "@x"}) {
    candidate.id = id;
    const auto longer =
        with_member(text, "roster.csv", candidate, read.value(), testing::shipped_standard("us-army-aft"));
    ASSERT_TRUE(longer.ok());
    EXPECT_NE(longer.value().find("\n'" + id + ","), std::string::npos) << longer.value();
    const auto again = roster(longer.value());
    ASSERT_TRUE(again.ok()) << to_string(again.faults().front());
    EXPECT_EQ(again.value().members[1].candidate.id, id);
  }
}

// Whoever takes somebody in keeps the table as the spreadsheet wrote it, and what the person has.
TEST(RosterTable, KeepsLineEndsAndWhatIsBlocked) {
  const std::string text = "\xEF\xBB\xBFsep=,\r\nid,birth_date,column,avoid\r\nL-1,1999-02-11,male,\r\n";
  const Squad known = roster(text).value();
  Candidate taken = known.members.front().candidate;
  taken.id = "L-2";
  taken.blocked = {{kToday + Days(9), kToday + Days(11), BlockedKind::rest, "wedding"},
                   {kToday + Days(20), kToday + Days(22), BlockedKind::field, "range"}};
  taken.avoid = {{"intervals", {}, {}, ""}, {"shuttle", {}, kToday + Days(9), ""}};
  const auto more = with_member(text, "roster.csv", taken, known, testing::shipped_standard("us-army-aft"));
  ASSERT_TRUE(more.ok());
  EXPECT_EQ(more.value().substr(0, 10), "\xEF\xBB\xBFsep=,\r\n");
  EXPECT_EQ(more.value().find("\n"), more.value().find("\r\n") + 1);
  EXPECT_NE(more.value().find("2026-12-10 to 2026-12-12"), std::string::npos) << more.value();
  EXPECT_NE(more.value().find("shuttle until 2026-12-10+intervals"), std::string::npos) << more.value();
  EXPECT_EQ(left_behind(taken, known, kToday),
            (std::vector<std::string>{"why they rest on 2026-12-10 to 2026-12-12 (wedding)",
                                      "the field spell of 2026-12-21 to 2026-12-23"}));
}

// All of it would otherwise be lost unsaid, and a later `from` would begin today.
TEST(RosterTable, NamesEverythingThatARowHasNoPlaceFor) {
  const Squad known = roster("id,birth_date,column\nL-1,1999-02-11,male\n").value();
  Candidate taken = known.members.front().candidate;
  taken.target.events.clear();
  EXPECT_EQ(left_behind(taken, known, kToday), std::vector<std::string>());
  taken.diagnostics = {kToday - Days(3), kToday + Days(20)};
  taken.days = {{kToday - Days(1), 30, true}, {kToday + Days(4), 90, true}};
  taken.now.hard_sessions = 3;
  taken.aim = Aim::highest;
  taken.target.events["2MR"] = Points::whole(80);
  taken.avoid = {{"intervals", kToday + Days(9), kToday + Days(19), "march"}, {"shuttle", kToday, {}, ""}};
  EXPECT_EQ(
      left_behind(taken, known, kToday),
      (std::vector<std::string>{
          "practice tests on 2026-12-21", "the night shift before 2026-12-05", "the 90 minutes of 2026-12-05",
          "\"now\": the training before the journal is taken as usual for the background",
          "the aim \"highest\": the squad's goal is \"fewest failing\"", "targets in single events: 2MR 80",
          "that intervals is avoided only from 2026-12-10 on: in the roster it is avoided from now on",
          "why intervals is avoided (march)"}));
}

TEST(RosterTable, RefusesAnIdThatIsTaken) {
  const std::string text = "id,birth_date,column\nA,1999-02-11,male\n";
  const auto read = roster(text);
  EXPECT_FALSE(with_member(text, "roster.csv", read.value().members[0].candidate, read.value(),
                           testing::shipped_standard("us-army-aft"))
                   .ok());
}

}  // namespace
}  // namespace backplan::io

// `backplan export`: pages, calendars and sheets from a plan, and what they do with odd names and full disks.
#include <gtest/gtest.h>

#include <filesystem>
#include <set>
#include <string>

#include "support/command.hpp"
#include "support/export_folder.hpp"
#include "support/text.hpp"

namespace backplan::cli {
namespace {

using support::Answer;
using support::army_candidate;
using support::holds;
using support::replaced;
using support::run_command;

// A folder with a plan.
class Exports : public ::testing::Test, protected support::ExportFolder {
 protected:
  void plan(const std::string& candidate = army_candidate(), const std::string& today = kToday) {
    folder.write("candidate.json", candidate);
    const Answer answer = run_command({"plan", "-C", folder.path().string(), "--as-of", today});
    ASSERT_LE(answer.code, 1) << answer.err;
  }
};

std::set<std::string> all_of(const std::string& text, const std::string& pattern) {
  const auto found = support::matches_of(text, pattern);
  return {found.begin(), found.end()};
}

TEST_F(Exports, ThePageOpensWithTheAnswerAndFetchesNothing) {
  plan();
  const std::string page = printed("html");
  EXPECT_TRUE(holds(page, "<!DOCTYPE html>"));
  const std::size_t answer = page.find("class=\"verdict\"");
  ASSERT_NE(answer, std::string::npos);
  EXPECT_LT(answer, page.find("<h2"));
  EXPECT_TRUE(holds(page, "default-src &#39;none&#39;"));
  EXPECT_FALSE(holds(page, "<script"));
  EXPECT_FALSE(holds(page, "http://"));
  EXPECT_FALSE(holds(page, "https://"));
  EXPECT_FALSE(holds(page, "url("));
  EXPECT_FALSE(holds(page, "@import"));
  EXPECT_FALSE(holds(page, "1998-04-17")) << "a birth date";
}

// Texts of the screen break their lines themselves; what is left of a line end on a page is a "?".
TEST_F(Exports, ThePageHasNoLineEndsOfTheScreen) {
  plan();
  const std::string page = printed("html");
  EXPECT_TRUE(holds(page, ", and no plan of these minutes and deload weeks can be worth more than"));
  EXPECT_EQ(all_of(page, "[.,;:][?]").size(), 0U);
}

// A pipe or a device has a reader of its own, who must get the bytes alone.
TEST_F(Exports, SayThatADeviceWasWrittenWhereNobodyTakesItForAPart) {
  plan();
  const Answer device = run({"csv", "-o", "/dev/null"});
  EXPECT_EQ(device.code, 0);
  EXPECT_EQ(device.out, "");
  EXPECT_TRUE(holds(device.err, "Written: /dev/null (")) << device.err;
  const Answer file = run({"csv", "-o", (folder.path() / "plan.csv").string()});
  EXPECT_TRUE(holds(file.out, "Written: ")) << file.out;
  EXPECT_EQ(file.err, "");
}

// Whoever exports over a journal has lost it.
TEST_F(Exports, NothingIsWrittenOverTheWorkingFoldersOwnFiles) {
  plan();
  folder.write("journal.jsonl", "");
  std::filesystem::create_symlink("journal.jsonl", folder.path() / "link.csv");
  const std::string before = folder.read("candidate.json");
  for (const char* name : {"candidate.json", "journal.jsonl", "plan.json", "squad.json", "roster.csv",
                           "programme.json", "link.csv", "./x/../plan.json"}) {
    const Answer answer = run({"csv", "-o", (folder.path() / name).string()});
    EXPECT_EQ(answer.code, 2) << name;
    EXPECT_TRUE(holds(answer.err, "is the working folder's own")) << answer.err;
  }
  EXPECT_EQ(folder.read("candidate.json"), before);
  EXPECT_EQ(folder.read("journal.jsonl"), "");
  EXPECT_FALSE(std::filesystem::exists(folder.path() / "roster.csv"));
}

TEST_F(Exports, EachIdIsUniqueAndEachPictureSaysWhatItShows) {
  plan();
  const std::string page = printed("html");
  support::expect_sound_ids(page);
  EXPECT_TRUE(holds(page, "<title id=\"ladder-MDL-title\">"));
  EXPECT_TRUE(holds(page, "The target is"));
}

TEST_F(Exports, ARefusalIsAPageTooAndSaysSoFirst) {
  plan(replaced(army_candidate(), "\"week\"", "\"medical\": {\"status\": \"pregnant\"}, \"week\""));
  const std::string page = printed("html");
  EXPECT_TRUE(holds(page, "No plan is made"));
  EXPECT_FALSE(holds(page, "Each week"));
}

TEST_F(Exports, ThePageTakesOffWhatPainHasTakenOff) {
  plan();
  const std::string where = folder.path().string();
  ASSERT_EQ(run_command({"log", "pain", "lower back", "--level", "5", "-C", where, "--as-of", kToday}).code,
            0);
  const std::string page = printed("html");
  EXPECT_TRUE(holds(page, "Off: pain"));
}

TEST_F(Exports, OneWeekIsASheetOfItsOwn) {
  plan();
  const std::string page = printed("html", {"--week", "6"});
  EXPECT_TRUE(holds(page, "Week 6"));
  EXPECT_FALSE(holds(page, "Week 7"));
  const Answer none = run({"html", "-o", "-", "--week", "60"});
  EXPECT_EQ(none.code, 2);
  EXPECT_TRUE(holds(none.err, "no week 60"));
}

TEST_F(Exports, TheSameEveryTime) {
  plan();
  for (const char* kind : {"html", "ics", "csv", "xlsx"}) EXPECT_EQ(printed(kind), printed(kind)) << kind;
}

TEST_F(Exports, OddNamesAreTextEverywhere) {
  const std::string id = "<b onload=\\\"x\\\">O'Neil</b> \\u05d0\\u05d1 \\ud83c\\udfc3";
  plan(replaced(army_candidate(), "\"A-07\"", "\"" + id + "\""));
  const std::string page = printed("html");
  EXPECT_FALSE(holds(page, "<b onload"));
  EXPECT_TRUE(holds(page, "&lt;b onload"));
  const std::string calendar = printed("ics");
  EXPECT_TRUE(holds(calendar, "\U0001F3C3"));
}

TEST_F(Exports, ACalendarKeepsItsEventsOverPlans) {
  plan();
  const std::string first = printed("ics");
  EXPECT_TRUE(holds(first, "SEQUENCE:0\r\n"));
  plan();
  EXPECT_EQ(printed("ics"), first) << "planned again with nothing new";
  // A day less in the week: its events are cancelled under their old UIDs.
  plan(replaced(army_candidate(), "\"thu\": 60", "\"thu\": 0"));
  const std::string second = printed("ics");
  EXPECT_TRUE(holds(second, "SEQUENCE:1\r\n"));
  EXPECT_TRUE(holds(second, "STATUS:CANCELLED\r\n"));
  const auto uids = [](const std::string& text) { return all_of(text, "UID:[0-9a-f-]+"); };
  const auto before = uids(first);
  const auto after = uids(second);
  for (const std::string& uid : before) EXPECT_EQ(after.count(uid), 1U) << uid;
}

TEST_F(Exports, ThePageTellsOfPainInWholeParagraphs) {
  plan();
  ASSERT_EQ(run_command({"log", "pain", "chest", "--level", "6", "-C", where(), "--as-of", kToday}).code, 0);
  const std::string page = printed("html");
  EXPECT_TRUE(holds(page, "trunk, intervals, tempo run")) << "one sentence, one line";
}

TEST_F(Exports, CalendarsAndSheetsTakeOffWhatPainHasTakenOff) {
  plan();
  const std::string before = printed("ics");
  ASSERT_EQ(run_command({"log", "pain", "chest", "--level", "6", "-C", where(), "--as-of", kToday}).code, 0);
  const std::string csv = printed("csv");
  EXPECT_TRUE(holds(csv, "OFF: pain (chest)."));
  EXPECT_FALSE(holds(csv, " lb (")) << "a load for work that is off";
  const std::string calendar = printed("ics");
  EXPECT_TRUE(holds(calendar, "(OFF)"));
  EXPECT_FALSE(holds(calendar, " lb ("));
  EXPECT_TRUE(holds(before, "SEQUENCE:0\r\n"));
  EXPECT_FALSE(holds(calendar, "SEQUENCE:0\r\n")) << "a calendar must take it for newer";
}

TEST_F(Exports, FixedWorkAndPracticeTestsAreOnCalendarsAndSheets) {
  plan(replaced(army_candidate(), "\"week\"",
                "\"diagnostics\": [\"2027-02-01\"], \"fixed\": [{ \"day\": \"wed\", \"work\": \"march\", "
                "\"minutes\": 150, \"distance\": \"12 km\" }], \"week\""));
  const std::string csv = printed("csv");
  EXPECT_TRUE(holds(csv, ",march,fixed,150,,\"march of 7.5 mi (12.0 km), 150 min (fixed)\"")) << csv;
  EXPECT_TRUE(holds(csv, ",practice test,note,"));
  const std::string calendar = printed("ics");
  EXPECT_TRUE(holds(calendar, "march (fixed)"));
  EXPECT_TRUE(holds(calendar, "practice test"));
}

TEST_F(Exports, SheetsHaveARowForEveryBlock) {
  plan();
  const std::string csv = printed("csv");
  const std::string plan_json = folder.read("plan.json");
  const auto times = [](const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
    return n;
  };
  EXPECT_EQ(times(csv, "\r\n"), times(plan_json, "\"prescription\"") + times(plan_json, "\"note\"") + 1);
}

TEST_F(Exports, AFileThatCannotBeWrittenLeavesNothingBehind) {
  plan();
  const std::string before = folder.names();
  const Answer answer = run({"html", "-o", (folder.path() / "none" / "plan.html").string()});
  EXPECT_EQ(answer.code, 73);
  EXPECT_EQ(folder.names(), before);
}

TEST_F(Exports, AskForWhatIsMissing) {
  plan();
  const Answer no_file = run({"html"});
  EXPECT_EQ(no_file.code, 2);
  EXPECT_TRUE(holds(no_file.err, "-o FILE"));
  for (const char* time : {"6:30", "24:00", "06:60", "ab:cd"}) {
    EXPECT_EQ(run({"ics", "-o", "-", "--at", time}).code, 2) << time;
  }
  std::filesystem::remove(folder.path() / "plan.json");
  EXPECT_EQ(run({"html", "-o", "-"}).code, 66);
}

TEST_F(Exports, APlanOfANewerFormatIsRefusedWithAClearWord) {
  plan();
  folder.write("plan.json", replaced(folder.read("plan.json"), "backplan-plan/1", "backplan-plan/2"));
  const Answer answer = run({"html", "-o", "-"});
  EXPECT_EQ(answer.code, 65);
  EXPECT_TRUE(holds(answer.err, "backplan-plan/2"));
}

}  // namespace
}  // namespace backplan::cli

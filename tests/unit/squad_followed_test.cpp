// A squad's programme as it is shown on a later day: what pain and the roster have taken off, what is wrong
// with the journal, the day of the test.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "io/json_write.hpp"
#include "report/words.hpp"
#include "support/command.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

using support::Answer;
using support::holds;
using support::run_command;

// data/demo/larch: L-11 avoids intervals until 20 Dec 2026; the test is on 22 Feb 2027.
const std::filesystem::path kLarch = std::filesystem::path(BACKPLAN_SOURCE_DIR) / "data/demo/larch";

class FollowedProgramme : public ::testing::Test {
 protected:
  void SetUp() override {
    for (const char* file : {"squad.json", "roster.csv"})
      folder_.write(file, support::bytes_of(kLarch / file));
    ASSERT_LE(run({}).code, 1);
  }

  [[nodiscard]] Answer run(std::vector<std::string> words, const std::string& day = "2026-12-01") const {
    words.insert(words.begin(), "squad");
    words.insert(words.end(), {"-C", folder_.path().string(), "--as-of", day});
    return run_command(words);
  }

  void log_pain(const std::string& row) {
    const std::string table = folder_.write("pain.csv", "id,date,where,level\n" + row + "\n").string();
    EXPECT_TRUE(holds(run({"log", table}, "2026-12-02").out, "added 1 of 1 entry, for 1 person\n"));
  }

  struct Off {
    std::string date, work, why;
    std::vector<std::string> instead;
  };
  // Every turn of the person's card that is off.
  [[nodiscard]] std::vector<Off> off_of(const std::string& id) const {
    std::vector<Off> out;
    const io::Json card = io::Json::parse(run({"card", id, "--json"}, "2026-12-02").out);
    for (const io::Json& morning : card["mornings"]) {
      for (const io::Json& station : morning["stations"]) {
        for (const io::Json& turn : station["turns"]) {
          if (!turn.contains("off")) continue;
          out.push_back({morning["date"], station["work"], turn["off"], turn["instead"]});
        }
      }
    }
    return out;
  }

  test::TemporaryFolder folder_;
};

bool names_intervals(const std::vector<std::string>& work) {
  return std::find(work.begin(), work.end(), "intervals") != work.end();
}

// The roster says what else must not be done, and until when: a substitute is judged by the day it is for.
TEST_F(FollowedProgramme, NeverNamesASubstituteThatThePersonAvoidsOnThatDay) {
  log_pain("L-11,2026-12-01,shoulder,6");
  int before = 0, after = 0;
  for (const auto& off : off_of("L-11")) {
    EXPECT_EQ(off.why, "pain (arm)");
    if (off.work != "shuttle") continue;
    const bool avoids = off.date <= "2026-12-20";
    EXPECT_EQ(names_intervals(off.instead), !avoids) << off.date;
    ++(avoids ? before : after);
  }
  EXPECT_GT(before, 0);
  EXPECT_GT(after, 0);
  EXPECT_FALSE(holds(run({"card", "L-11"}, "2026-12-03").out, "Instead: intervals"));
}

TEST_F(FollowedProgramme, NamesNoSubstituteWhereTheRosterIsNotKnown) {
  log_pain("L-11,2026-12-01,shoulder,6");
  folder_.write("roster.csv", "id,birth_date\nL-11,someday\n");
  const Answer card = run({"card", "L-11"}, "2026-12-03");
  EXPECT_EQ(card.code, 0) << card.err;
  EXPECT_TRUE(holds(card.out, "OFF: pain (arm).")) << card.out;
  EXPECT_FALSE(holds(card.out, "Instead:")) << card.out;
  EXPECT_TRUE(holds(card.err, "roster.csv cannot be read: work that it takes off is not marked here"));
  std::filesystem::remove(folder_.path() / "roster.csv");
  EXPECT_FALSE(holds(run({"card", "L-11"}, "2026-12-03").out, "Instead:"));
  EXPECT_EQ(run({"card", "L-11"}, "2026-12-03").err, "");
}

// As `show` does for one person by candidate.json.
TEST_F(FollowedProgramme, TakesOffWhatTheRosterForbidsSince) {
  folder_.write("roster.csv", support::replaced(support::bytes_of(kLarch / "roster.csv"), "intervals until",
                                                "shuttle until"));
  const auto off = off_of("L-11");
  ASSERT_FALSE(off.empty());
  for (const auto& one : off) {
    EXPECT_EQ(one.work, "shuttle");
    EXPECT_EQ(one.why, "avoided by roster.csv");
    EXPECT_LE(one.date, "2026-12-20");
  }
  EXPECT_TRUE(off_of("L-01").empty());
}

TEST_F(FollowedProgramme, EveryReadOfATornJournalWarns) {
  folder_.write("journal.jsonl", "{\"id\":\"01939b0a-torn\n");
  for (const std::vector<std::string>& words : {std::vector<std::string>{"week"},
                                                {"card", "L-01"},
                                                {"extract", "L-01", (folder_.path() / "own").string()},
                                                {"check"},
                                                {"replan"}}) {
    const Answer answer = run(words);
    EXPECT_TRUE(holds(answer.err, "journal.jsonl:1:")) << words.front() << answer.err;
  }
  const Answer exported = run_command({"export", "csv", "-o", "-", "-C", folder_.path().string()});
  EXPECT_TRUE(holds(exported.err, "journal.jsonl:1:")) << exported.err;
}

// A correction of an entry that is not there is no torn line, but does not count either.
TEST_F(FollowedProgramme, CheckTellsWhatDoesNotStandInTheJournal) {
  folder_.write("journal.jsonl",
                "{\"who\":\"L-01\",\"id\":\"01939b0a-0000-7000-8000-000000000001\",\"date\":\"2026-11-30\","
                "\"kind\":\"void\",\"of\":\"01939b0a-0000-7000-8000-000000000009\"}\n");
  const Answer check = run({"check"});
  EXPECT_EQ(check.code, 1) << check.out;
  EXPECT_TRUE(holds(check.err, "journal.jsonl:1:")) << check.err;
}

TEST_F(FollowedProgramme, SaysOnTheDayItselfThatTodayIsTheTest) {
  const Answer today = run({"week"}, "2027-02-22");
  EXPECT_EQ(today.code, 0);
  EXPECT_TRUE(holds(today.out, "Today is the test: no week is left.")) << today.out;
  EXPECT_TRUE(holds(today.out, "`backplan testday`")) << today.out;
  EXPECT_EQ(run({"week"}, "2027-02-23").out, "The test is over: no week is left.\n");
}

TEST_F(FollowedProgramme, FitsOnAPage) {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"week", "8"}, {"card", "L-01"}, {"card", "L-11"}}) {
    const std::string text = run(words).out;
    for (std::size_t from = 0; from < text.size();) {
      const std::size_t end = text.find('\n', from);
      EXPECT_LE(report::width_of(text.substr(from, end - from)), report::kPageWidth)
          << text.substr(from, end - from);
      from = end + 1;
    }
  }
}

// What the text of a week and of a check says, their JSON says too.
TEST_F(FollowedProgramme, JsonHoldsExtrasAndDefaults) {
  const io::Json check = io::Json::parse(run({"check", "--json"}).out);
  ASSERT_FALSE(check["defaults"].empty());
  EXPECT_TRUE(holds(run({"check"}).out, check["defaults"][0].get<std::string>()));
  std::size_t extras = 0;
  for (const char* week : {"12", "10", "8"}) {
    const io::Json json = io::Json::parse(run({"week", week, "--json"}).out);
    const std::string text = run({"week", week}).out;
    EXPECT_EQ(json["extra"].empty(), !holds(text, "Short extras")) << week;
    for (const io::Json& one : json["extra"]) {
      ++extras;
      EXPECT_TRUE(one.contains("id") && one.contains("work") && one.contains("prescription")) << one;
    }
  }
  EXPECT_GT(extras, 0U);
}

// A spreadsheet may put a line before the header.
TEST_F(FollowedProgramme, SeesMakeUpDatesUnderALineThatNamesTheSeparator) {
  folder_.write("roster.csv",
                "sep=,\nid,birth_date,column,results_date,HRP,test_date\n"
                "L-01,1999-02-11,male,2026-11-24,24,2027-03-08\n");
  const Answer check = run({"check"}, "2027-02-24");
  EXPECT_EQ(check.code, 0) << check.err;
}

}  // namespace
}  // namespace backplan

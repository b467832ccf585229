// Commands that change something and cannot print their answer: whoever gives them again would do it twice.
#include <gtest/gtest.h>

#include <chrono>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run.hpp"
#include "support/command.hpp"
#include "support/full_disk.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan::cli {
namespace {

using support::army_candidate;
using support::holds;
using support::run_command;

class UnprintedAnswer : public ::testing::Test {
 protected:
  // What is said on standard error when standard output takes nothing.
  [[nodiscard]] std::string error_of(std::vector<std::string> words) const {
    words.insert(words.end(), {"-C", folder_.path().string(), "--as-of", "2026-12-01"});
    support::FullDisk disk;
    std::istringstream in;
    std::ostream out(&disk);
    std::ostringstream err;
    EXPECT_EQ(run(words, {in, out, err}, {}), 74) << words.front();
    return err.str();
  }

  // Of a command that has changed something; `where` is named in the hint.
  void expect_changed(const std::vector<std::string>& words, const std::string& where) const {
    const std::string err = error_of(words);
    EXPECT_TRUE(holds(err,
                      "error: cannot write the answer to standard output\n"
                      "hint: the change was made: do not repeat it; "))
        << err;
    EXPECT_TRUE(holds(err, where)) << err;
    EXPECT_EQ(err.find("cannot write"), err.rfind("cannot write")) << err;
  }

  test::TemporaryFolder folder_;
};

TEST_F(UnprintedAnswer, SaysThatTheEntryIsInTheJournal) {
  folder_.write("candidate.json", army_candidate());
  expect_changed({"log", "push_up", "--set", "20"}, "`backplan log --list` shows it");
  EXPECT_TRUE(holds(folder_.read("journal.jsonl"), "push_up"));
}

TEST_F(UnprintedAnswer, SaysThatARowOfAHistoryIsInTheJournal) {
  folder_.write("candidate.json", army_candidate());
  const std::string table = folder_.write("h.csv", "date,event,value\n2026-11-25,HRP,26\n").string();
  expect_changed({"log", "import", table}, "`backplan log --list` shows what stands");
  EXPECT_TRUE(holds(folder_.read("journal.jsonl"), "HRP"));
}

TEST_F(UnprintedAnswer, SaysThatThePlanIsWritten) {
  folder_.write("candidate.json", army_candidate());
  expect_changed({"plan"}, "`backplan show --all` shows the plan");
  EXPECT_TRUE(holds(folder_.read("plan.json"), "backplan-plan/1"));
  expect_changed({"export", "csv", "-o", (folder_.path() / "plan.csv").string()}, "plan.csv is written");
}

TEST_F(UnprintedAnswer, SaysWhatASquadsCommandHasChanged) {
  folder_.write("squad.json", R"({ "format": "backplan-squad/1", "id": "larch", "standard": "us-army-aft",
  "test_date": "2026-12-14", "mornings": { "mon": 70, "thu": 60 }, "equipment": { "sleds": 1 } })");
  folder_.write("roster.csv",
                "id,birth_date,column,results_date,HRP,2MR\nL-01,1999-02-11,male,2026-11-24,24,21:40\n");
  const std::string table = folder_.write("day.csv", "id,HRP\nL-01,26\n").string();
  expect_changed({"squad", "log", table}, "the same table again adds nothing twice");
  EXPECT_TRUE(holds(folder_.read("journal.jsonl"), "L-01"));
  expect_changed({"squad"}, "`backplan squad week` shows what comes next");
  expect_changed({"squad", "extract", "L-01", (folder_.path() / "own").string()}, "own is written");
}

// Nothing was changed: there is nothing to warn of.
TEST_F(UnprintedAnswer, OfAQuestionNeedsNoHint) {
  folder_.write("candidate.json", army_candidate());
  EXPECT_EQ(error_of({"score"}), "error: cannot write the answer to standard output\n");
  EXPECT_EQ(error_of({"log", "import", "--dry-run",
                      folder_.write("h.csv", "date,event,value\n2026-11-25,HRP,26\n").string()}),
            "error: cannot write the answer to standard output\n");
}

}  // namespace
}  // namespace backplan::cli

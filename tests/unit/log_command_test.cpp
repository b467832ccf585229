// `backplan log` as a user meets it.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "io/json_write.hpp"
#include "support/command.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan::cli {
namespace {

using support::Answer;
using support::army_candidate;
using support::holds;
using support::run_command;
using test::TemporaryFolder;

// A folder with a candidate; today is Mon 30 Nov 2026.
class Log : public testing::Test {
 protected:
  Log() { folder_.write("candidate.json", army_candidate()); }

  Answer log(std::vector<std::string> words) const {
    words.insert(words.begin(), {"log", "-C", folder_.path().string()});
    return run_command(words);
  }
  // The id of what was logged.
  std::string logged(std::vector<std::string> words) const {
    words.emplace_back("--json");
    const Answer answer = log(std::move(words));
    EXPECT_EQ(answer.code, 0) << answer.err;
    return answer.code == 0 ? io::Json::parse(answer.out)["logged"]["id"].get<std::string>() : "";
  }
  std::string journal() const { return folder_.read("journal.jsonl"); }
  io::Json listed() const { return io::Json::parse(log({"--list", "--json"}).out)["entries"]; }

  // The words are refused with this code and message, and the folder stays as it was.
  void refused(const std::vector<std::string>& words, int code, const std::string& message) const {
    const std::string before = journal();
    const std::string names = folder_.names();
    const Answer answer = log(words);
    EXPECT_EQ(answer.code, code) << answer.err;
    EXPECT_TRUE(holds(answer.err, message)) << answer.err << "\nwanted: " << message;
    EXPECT_TRUE(holds(answer.err, "hint: ")) << answer.err;
    EXPECT_EQ(answer.out, "");
    EXPECT_EQ(journal(), before);
    EXPECT_EQ(folder_.names(), names);
  }

  TemporaryFolder folder_;
};

TEST_F(Log, AnswersWhatItUnderstoodAndWhatThatSays) {
  const Answer answer =
      log({"deadlift", "--set", "5@155", "--set", "5@155", "--set", "4@165", "--in-reserve", "2"});
  EXPECT_EQ(answer.code, 0);
  EXPECT_EQ(answer.err, "");
  EXPECT_EQ(answer.out.substr(0, answer.out.find("  `backplan")),
            "logged: Mon 30 Nov 2026, deadlift day: 2×5 at 155 lb, 2 left; 4 at 165 lb, 2 left\n"
            "  reads as a three-repetition maximum of 180 lb, 8 in 10 between 172 lb and 189 lb\n");
  EXPECT_TRUE(holds(answer.out, "` takes it back\n"));
  EXPECT_EQ(journal().substr(0, 32), "{\"format\":\"backplan-journal/1\"}\n");
  EXPECT_TRUE(holds(journal(), "\"sets\":[{\"reps\":5,\"load\":\"155 lb\",\"in_reserve\":2}"));
}

TEST_F(Log, TakesEveryExampleOfItsHelp) {
  const std::string id = logged({"deadlift", "--set", "5@155"});
  EXPECT_EQ(log({"intervals", "--distance", "2mi", "--time", "17:05", "--hard"}).code, 0);
  EXPECT_EQ(log({"push_up", "--set", "20", "--set", "18", "--minutes", "20", "--effort", "7"}).code, 0);
  EXPECT_EQ(log({"result", "HRP", "31", "--setting", "practice"}).code, 0);
  EXPECT_EQ(log({"missed", "--reason", "duty", "--date", "2026-11-29"}).code, 0);
  EXPECT_EQ(log({"pain", "lower back", "--level", "4"}).code, 0);
  EXPECT_EQ(log({"pain", "lower", "back", "--level", "0"}).code, 0);
  EXPECT_EQ(log({"march", "--distance", "6 mi", "--minutes", "120"}).code, 0);
  EXPECT_EQ(log({"replace", id, "deadlift", "--set", "5@145"}).code, 0);
  EXPECT_EQ(listed().size(), 8U);
  EXPECT_TRUE(holds(log({"--list"}).out, "Sun 29 Nov 2026  missed: duty\n"));
}

TEST_F(Log, SaysABoundAsABound) {
  EXPECT_TRUE(holds(log({"deadlift", "--set", "3@160"}).out,
                    "reads as a three-repetition maximum of 160 lb or more\n"));
  EXPECT_TRUE(
      holds(log({"tempo", "--distance", "3mi", "--time", "27:00", "--effort", "8"}).out, " or faster\n"));
}

TEST_F(Log, SaysThatWorkCountsAsTrainingOnlyAndWhatAReadingTakes) {
  EXPECT_TRUE(
      holds(log({"easy_run", "--minutes", "40"}).out,
            "  counts as training only; a reading of the two-mile run (2MR) takes a distance of a quarter "
            "to four\n    times its own with the time, all out or from effort 7\n"));
  EXPECT_TRUE(holds(log({"deadlift", "--minutes", "40"}).out,
                    "takes sets with loads,\n    of at most 10 repetitions to failure\n"));
  EXPECT_TRUE(holds(log({"trunk", "--minutes", "15"}).out, "takes the whole of it with the time, all out\n"));
  EXPECT_TRUE(holds(log({"push_up", "--minutes", "15"}).out, "takes sets\n"));
  EXPECT_TRUE(holds(log({"march", "--minutes", "90"}).out, "  counts as training only\n"));
}

// A standard of rowing, swimming or riding: what is logged of it reads as its event.
TEST_F(Log, ReadsARowOfAnotherDistanceAsTheEvent) {
  folder_.write("candidate.json", R"({
    "format": "backplan-candidate/1", "id": "R", "birth_date": "1998-04-17", "column": "male",
    "standard": "us-army-alternate-aerobic", "choose": ["ROW"], "test_date": "2027-03-08",
    "target": { "total": 1 },
    "results": [ { "date": "2026-11-20", "event": "ROW", "value": "24:00" } ], "week": { "mon": 60 } })");
  const Answer hard = log({"row", "--distance", "2 km", "--time", "8:30", "--hard"});
  EXPECT_EQ(hard.code, 0) << hard.err;
  EXPECT_TRUE(holds(hard.out, "  reads as a row of 22:")) << hard.out;
  EXPECT_TRUE(holds(hard.out, ", 8 in 10 between ")) << hard.out;
  const Answer easy = log({"row", "--distance", "6 km", "--time", "30:00"});
  EXPECT_TRUE(holds(easy.out, "  counts as training only; a reading of the 5 km row (ROW) takes a distance"))
      << easy.out;
}

TEST_F(Log, VoidsAndReplacesByTheBeginningOfAnId) {
  const std::string first = logged({"deadlift", "--set", "5@155", "--date", "2026-11-28"});
  const Answer replaced = log({"replace", first.substr(0, 13), "deadlift", "--set", "5@145"});
  EXPECT_EQ(replaced.code, 0) << replaced.err;
  EXPECT_TRUE(holds(replaced.out,
                    "replaced: Sat 28 Nov 2026, deadlift day: 5 at 155 lb\n"
                    "logged: Sat 28 Nov 2026, deadlift day: 5 at 145 lb\n"))
      << replaced.out;
  ASSERT_EQ(listed().size(), 1U);
  const std::string second = listed()[0]["id"];
  EXPECT_NE(second, first);
  const Answer voided = log({"void", second});
  EXPECT_EQ(voided.out, "voided: Sat 28 Nov 2026, deadlift day: 5 at 145 lb\n");
  EXPECT_EQ(listed().size(), 0U);
  EXPECT_EQ(log({"--list"}).out, "nothing is logged\n");
  // Nothing was ever taken out of the file.
  EXPECT_TRUE(holds(journal(), first));
  EXPECT_TRUE(holds(journal(), second));
}

TEST_F(Log, RefusesWrongIds) {
  const std::string id = logged({"missed"});
  refused({"void", "01939b0a-0000"}, 65, "no entry has an id that begins with \"01939b0a-0000\" (at ID)");
  refused({"void", "0193"}, 65, "\"0193\" is too short for an id");
  ASSERT_EQ(log({"void", id}).code, 0);
  refused({"void", id}, 65, "has been voided or replaced before");
  refused({"replace", id, "missed"}, 65, "has been voided or replaced before");
  // The void itself cannot be undone.
  std::string of_void = journal().substr(journal().rfind("{\"id\":\"") + 7, 36);
  refused({"void", of_void}, 65, "is a void, which cannot be undone");
  refused({"replace", of_void, "missed"}, 65, "is a void, which cannot be undone");
}

TEST_F(Log, AsksForMoreOfAnIdThatTwoEntriesShare) {
  const std::string lines =
      "{\"id\":\"01939b0a-5c00-7000-8000-000000000001\",\"date\":\"2026-11-20\",\"kind\":\"missed\"}\n"
      "{\"id\":\"01939b0a-5c00-7000-8000-000000000002\",\"date\":\"2026-11-21\",\"kind\":\"missed\"}\n";
  folder_.write("journal.jsonl", lines);
  refused({"void", "01939b0a"}, 65, "2 entries have an id that begins with \"01939b0a\"");
  EXPECT_EQ(log({"void", "01939B0A-5C00-7000-8000-000000000002"}).code, 0);
  EXPECT_EQ(listed().size(), 1U);
}

TEST_F(Log, AsksWhenALoadFitsTheHistoryOnlyInTheOtherUnit) {
  refused({"deadlift", "--set", "5@155kg", "--in-reserve", "2"}, 65,
          "error: \"155kg\" would read as 383 lb in MDL, but so far it was 170 lb (at --set)\n"
          "hint: did you mean \"155 lb\"? then write it so; if it is right as it stands, add --sure");
  refused({"result", "MDL", "155kg"}, 65, "(at VALUE)");
  EXPECT_EQ(log({"deadlift", "--set", "5@155kg", "--in-reserve", "2", "--sure"}).code, 0);
}

TEST_F(Log, RefusesWhatCannotBeAndChangesNothing) {
  refused({"intervals", "--distance", "2mi", "--time", "15.32"}, 65,
          "error: \"15.32\" may be minutes or seconds (at --time)\nhint: did you mean \"15:32\"? then write "
          "it so");
  refused({"deadlift", "--set", "5@155", "--date", "2026-12-01"}, 65,
          "Tue 1 Dec 2026 is after today, Mon 30 Nov 2026 (at --date)");
  refused({"missed", "--date", "1990-01-01"}, 65, "is not after the birth date (at --date)");
  refused({"missed", "--date", "30.11.2026"}, 65, "is not written as a date (at --date)");
  refused({"deadlift", "--set", "5x155"}, 65, "\"5x155\" is not written as a set (at --set)");
  refused({"deadlift", "--set", "5@155", "--in-reserve", "2", "--in-reserve", "1"}, 65,
          "2 figures for 1 sets");
  refused({"deadlift", "--minutes", "0"}, 65, "(at --minutes)");
  refused({"result", "HRX", "31"}, 65, "unknown event \"HRX\"");
  refused({"result", "HRP", "many"}, 65, "(at VALUE)");
  refused({"pain", "shin", "--level", "11"}, 65, "(at --level)");
  refused({"pain", "shin"}, 65, "--level is missing");
}

TEST_F(Log, RefusesWordsThatDoNotGoTogether) {
  refused({}, 2, "what was done?");
  refused({"dedlift"}, 2, "did you mean \"deadlift\"?");
  refused({"deadlift", "hard"}, 2, "unexpected word \"hard\"");
  refused({"deadlift", "--level", "4"}, 2, "--level does not go with deadlift");
  refused({"missed", "--set", "5@155"}, 2, "--set does not go with missed");
  refused({"missed", "--in-reserve", "2"}, 2, "--in-reserve does not go with missed");
  refused({"result", "HRP"}, 2, "something is missing after \"HRP\"");
  refused({"pain"}, 2, "something is missing after \"pain\"");
  refused({"void"}, 2, "something is missing after \"void\"");
  refused({"replace", "01939b0a"}, 2, "something is missing");
  refused({"void", "01939b0a", "--date", "2026-11-01"}, 2, "--date does not go with void");
  refused({"import"}, 2, "something is missing after \"import\"");
  refused({"missed", "--dry-run"}, 2, "--dry-run goes with `log import`");
  refused({"--list", "deadlift"}, 2, "it takes no words");
  refused({"deadlift", "--sett", "5"}, 2, "did you mean \"--set\"?");
}

TEST_F(Log, SaysAtOnceWhichWorkPainTakesOff) {
  const Answer answer = log({"pain", "lower back", "--level", "4"});
  EXPECT_TRUE(holds(answer.out,
                    "Off because of pain (back; level 4 of 10, since Mon 30 Nov): deadlift day, shuttle.\n"
                    "See licensed medical staff before any of this is done again.\n"))
      << answer.out;
  const Answer done = log({"deadlift", "--set", "5@100"});
  EXPECT_TRUE(holds(done.err, "warning: deadlift day: off because of pain (back; level 4 of 10)"))
      << done.err;
  EXPECT_TRUE(holds(log({"--list"}).out, "Off because of pain (back"));
  EXPECT_TRUE(holds(log({"pain", "back", "--level", "0"}).out, "no work is off because of pain\n"));
  EXPECT_TRUE(holds(log({"pain", "chest", "--level", "1"}).out, "STOP: this may be an emergency."));
}

TEST_F(Log, WarnsOfATornLineOnEveryReadAndKeepsIt) {
  const std::string torn = "{\"id\":\"01939b0a-5c00-7000-8000-0000000";
  folder_.write("journal.jsonl", torn);
  const Answer answer = log({"missed"});
  EXPECT_EQ(answer.code, 0);
  EXPECT_TRUE(holds(answer.err, "journal.jsonl:1:")) << answer.err;
  EXPECT_EQ(journal().substr(0, torn.size() + 1), torn + "\n");
  EXPECT_EQ(listed().size(), 1U);
  EXPECT_TRUE(holds(log({"--list"}).err, ": warning: "));
}

TEST_F(Log, RefusesAJournalOfAnotherFormat) {
  folder_.write("journal.jsonl", "{\"format\":\"backplan-journal/2\"}\n");
  refused({"missed"}, 65, "journal.jsonl:1:1: error: this program reads \"backplan-journal/1\"");
  refused({"--list"}, 65, "backplan-journal/2");
}

TEST_F(Log, TakesWhatWasDoneAfterTheTestWasOver) {
  EXPECT_EQ(
      log({"result", "HRP", "33", "--setting", "record", "--date", "2027-03-08", "--as-of", "2027-03-10"})
          .code,
      0);
}

TEST_F(Log, NeedsTheCandidate) {
  const TemporaryFolder empty;
  const Answer answer = run_command({"log", "missed", "-C", empty.path().string()});
  EXPECT_EQ(answer.code, 66);
  EXPECT_EQ(empty.names(), "");
}

TEST_F(Log, AnswersInJson) {
  const auto json = io::Json::parse(log({"pain", "shin", "--level", "2", "--limp", "--json"}).out);
  EXPECT_EQ(json["logged"]["kind"], "pain");
  EXPECT_EQ(json["reads_as"], nullptr);
  EXPECT_EQ(json["pain_stops"][0]["where"], "shin");
  EXPECT_EQ(json["pain_stops"][0]["refers"], true);
  const auto run =
      io::Json::parse(log({"intervals", "--distance", "2mi", "--time", "17:05", "--hard", "--json"}).out);
  EXPECT_EQ(run["reads_as"]["event"], "2MR");
  EXPECT_EQ(run["reads_as"]["unit"], "s");
  EXPECT_EQ(run["reads_as"]["lower_bound"], false);
  EXPECT_LT(run["reads_as"]["high80"], run["reads_as"]["low80"]);  // the better end is the shorter time
}

constexpr const char* kHistory =
    "date,work,sets,in_reserve,distance,time,hard,event,value\n"
    "2026-11-01,deadlift,5@140 lb+5@140 lb,2,,,,,\n"
    "2026-11-03,intervals,,,2 mi,18:40,yes,,\n"
    "2026-11-05,,,,,,,HRP,22\n";

TEST_F(Log, ImportsAHistoryOnceOnly) {
  const std::string file = folder_.write("history.csv", kHistory).string();
  const Answer dry = log({"import", file, "--dry-run"});
  EXPECT_EQ(dry.code, 0) << dry.err;
  EXPECT_TRUE(holds(dry.out, "would add 3 of 3 entries\n")) << dry.out;
  EXPECT_EQ(journal(), "");
  EXPECT_FALSE(holds(folder_.names(), "journal"));
  const Answer first = log({"import", file});
  EXPECT_TRUE(holds(first.out, "added 3 of 3 entries\n")) << first.out;
  const std::string after = journal();
  const Answer second = log({"import", file});
  EXPECT_EQ(second.code, 0);
  EXPECT_EQ(second.out, "added 0 of 3 entries; 3 are there already\n");
  EXPECT_EQ(journal(), after);
  folder_.write("history.csv", std::string(kHistory) + "2026-11-06,push_up,20,,,,,,\n");
  EXPECT_TRUE(holds(log({"import", file}).out, "added 1 of 4 entries; 3 are there already\n"));
  EXPECT_EQ(listed().size(), 4U);
}

TEST_F(Log, DoesNotBringBackWhatWasVoidAfterAnImport) {
  const std::string file = folder_.write("history.csv", kHistory).string();
  ASSERT_EQ(log({"import", file}).code, 0);
  ASSERT_EQ(log({"void", listed()[0]["id"]}).code, 0);
  EXPECT_TRUE(holds(log({"import", file}).out, "added 0 of 3"));
  EXPECT_EQ(listed().size(), 2U);
}

TEST_F(Log, ImportsAgainWhatACrashHadCutOff) {
  const std::string file = folder_.write("history.csv", kHistory).string();
  ASSERT_EQ(log({"import", file}).code, 0);
  const std::string whole = journal();
  folder_.write("journal.jsonl", whole.substr(0, whole.size() - 60));  // in the closing line
  EXPECT_EQ(listed().size(), 0U);
  EXPECT_TRUE(
      holds(log({"--list"}).err, "an import that was cut off begins here; its 3 entries do not count"));
  EXPECT_TRUE(holds(log({"import", file}).out, "added 3 of 3 entries\n"));
  EXPECT_EQ(listed().size(), 3U);
}

TEST_F(Log, ImportsAllOrNothing) {
  const std::string file =
      folder_
          .write("history.csv",
                 std::string(kHistory) + "2027-01-01,push_up,20,,,,,,\n2026-11-07,deadlift,5@140 kg,2,,,,,\n")
          .string();
  refused({"import", file}, 65,
          "history.csv:5:1: error: Fri 1 Jan 2027 is after today, Mon 30 Nov 2026 (at date)");
  refused({"import", file}, 65, "history.csv:6:1: error: \"140 kg\" would read as 346 lb in MDL");
  refused({"import", (folder_.path() / "gone.csv").string(), "--dry-run"}, 66, "gone.csv");
}

TEST_F(Log, ImportsInJson) {
  const std::string file = folder_.write("history.csv", kHistory).string();
  const auto json = io::Json::parse(log({"import", file, "--json"}).out);
  EXPECT_EQ(json["rows"], 3);
  EXPECT_EQ(json["added"], 3);
  EXPECT_EQ(json["entries"][1]["reads_as"]["event"], "2MR");
}

}  // namespace
}  // namespace backplan::cli

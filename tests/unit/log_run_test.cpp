// `backplan log import` with the file of a watch, as a user meets it.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <filesystem>
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

std::string watch_file(const std::string& name) {
  return fmt::format("{}/tests/watch/{}", BACKPLAN_SOURCE_DIR, name);
}

// A folder with a candidate; today is Mon 30 Nov 2026.
class LogRun : public testing::Test {
 protected:
  LogRun() { folder_.write("candidate.json", army_candidate()); }

  Answer import(const std::string& file, std::vector<std::string> options = {}) const {
    options.insert(options.begin(), {"log", "-C", folder_.path().string(), "import", file});
    return run_command(options);
  }
  std::string journal() const { return folder_.read("journal.jsonl"); }
  io::Json listed() const {
    const Answer answer = run_command({"log", "-C", folder_.path().string(), "--list", "--json"});
    return io::Json::parse(answer.out)["entries"];
  }
  void refused(const Answer& answer, int code, const std::string& message) const {
    EXPECT_EQ(answer.code, code) << answer.err;
    EXPECT_TRUE(holds(answer.err, message)) << answer.err << "\nwanted: " << message;
    EXPECT_TRUE(holds(answer.err, "hint: ")) << answer.err;
    EXPECT_EQ(answer.out, "");
    EXPECT_EQ(folder_.names(), "candidate.json");
  }

  test::TemporaryFolder folder_;
};

TEST_F(LogRun, AddsTheRunAndSaysWhichFiguresItTook) {
  const Answer answer = import(watch_file("run.fit"));
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_EQ(answer.out,
            "  Sat 28 Nov 2026, easy run: 2520 m in 12:00; 12 min\n"
            "added 1 of 1 entry\n"
            "  read from FIT; no position is kept\n"
            "  begun: Sat 28 Nov 2026, 01:00 on the clock of the place\n"
            "  distance: 2520 m, the total that the watch recorded\n"
            "  time: 12:00, without the pauses (12:30 from start to end)\n"
            "  counts as training only; a reading of the two-mile run (2MR) takes a distance of a quarter "
            "to four\n    times its own with the time, all out or from effort 7\n");
  const io::Json entry = listed().at(0);
  EXPECT_EQ(entry["work"], "easy_run");
  EXPECT_EQ(entry["distance"], "2520 m");
  EXPECT_EQ(entry["time"], "12:00");
  EXPECT_EQ(entry["minutes"], 12);
}

TEST_F(LogRun, AddsNothingTwiceNotEvenFromAnotherFormat) {
  EXPECT_EQ(import(watch_file("run.fit")).code, 0);
  const std::string before = journal();
  EXPECT_TRUE(holds(import(watch_file("run.fit")).out, "added 0 of 1 entry; 1 is there already\n"));
  EXPECT_TRUE(holds(import(watch_file("run.tcx")).out, "added 0 of 1 entry"));  // begun at the same second
  EXPECT_EQ(journal(), before);
}

TEST_F(LogRun, ReadsARunAllOutAsAResultOverTheTimeWithPauses) {
  const Answer answer = import(watch_file("run.tcx"), {"--hard", "--work", "intervals", "--note", "track"});
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_TRUE(holds(answer.out, "intervals: 2400 m in 7:36; all out; 7 min\n")) << answer.out;
  EXPECT_TRUE(holds(answer.out, "time: 7:36, from start to end (6:36 without the pauses)")) << answer.out;
  EXPECT_TRUE(holds(answer.out, "reads as a two-mile run of 10:41")) << answer.out;
  EXPECT_EQ(listed().at(0)["note"], "track");
}

TEST_F(LogRun, CountsPausesWhereTheRunMayBoundAResult) {
  EXPECT_TRUE(holds(import(watch_file("run.fit"), {"--effort", "7", "--dry-run"}).out, "2520 m in 12:30;"));
  EXPECT_TRUE(holds(import(watch_file("run.fit"), {"--effort", "6", "--dry-run"}).out, "2520 m in 12:00;"));
}

TEST_F(LogRun, AsksAboutADistanceThatWasOnlyReckoned) {
  refused(import(watch_file("run.gpx")), 65, "its positions add up to 1622 m, and such sums are noisy");
  refused(import(watch_file("run.gpx"), {"--dry-run"}), 65, "or give the true one, such as --distance 2mi");
  EXPECT_EQ(import(watch_file("run.gpx"), {"--distance", "1 mi", "--dry-run"}).code, 0);
  EXPECT_EQ(folder_.names(), "candidate.json");
  const Answer sure = import(watch_file("run.gpx"), {"--sure"});
  EXPECT_EQ(sure.code, 0) << sure.err;
  EXPECT_TRUE(holds(sure.out, "distance: 1622 m, reckoned from the positions, and so only near the truth"));
}

TEST_F(LogRun, KeepsNoPosition) {
  EXPECT_EQ(import(watch_file("run.gpx"), {"--distance", "1mi"}).code, 0);
  EXPECT_EQ(import(watch_file("positions.fit"), {"--sure", "--json"}).code, 0);
  // The tracks lie at 30 degrees north, 40 degrees west.
  for (const char* part : {"30.0", "-40", "39.9", "lat", "lon"}) EXPECT_FALSE(holds(journal(), part)) << part;
}

TEST_F(LogRun, TakesDayTimeAndWorkAsGiven) {
  const Answer answer = import(watch_file("run.fit"), {"--date", "2026-11-27", "--time", "12:10", "--work",
                                                       "march", "--effort", "6", "--json"});
  EXPECT_EQ(answer.code, 0) << answer.err;
  const io::Json json = io::Json::parse(answer.out);
  EXPECT_EQ(json["run"]["time_from"], "given");
  EXPECT_EQ(json["run"]["distance_from"], "total");
  EXPECT_EQ(json["run"]["elapsed_s"], 750.0);
  const io::Json entry = json["entries"].at(0);
  EXPECT_EQ(entry["date"], "2026-11-27");
  EXPECT_EQ(entry["time"], "12:10");
  EXPECT_EQ(entry["work"], "march");
  EXPECT_EQ(entry["effort"], 6);
}

// Somebody whose aerobic event is the ride.
class LogRide : public LogRun {
 protected:
  LogRide() {
    folder_.write("candidate.json", R"({ "format": "backplan-candidate/1", "id": "B-1",
      "standard": "us-army-alternate-aerobic-2020", "choose": ["BIKE"], "birth_date": "1995-02-11",
      "column": "all", "test_date": "2027-02-22", "target": { "each": 1 },
      "week": { "mon": 45, "wed": 45, "fri": 60 }, 
      "results": [{ "date": "2026-11-20", "event": "BIKE", "value": "26:10" }] })");
  }
};

TEST_F(LogRide, TakesTheRideThatTheFileNames) {
  const Answer answer = import(watch_file("cycling.fit"));
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_TRUE(holds(answer.out, "ride: 25000 m in 1:00:00; 60 min\n")) << answer.out;
  EXPECT_EQ(listed().at(0)["work"], "bike");
}

TEST_F(LogRide, ReadsARideAllOutAsAResult) {
  const Answer answer =
      import(watch_file("cycling.fit"), {"--hard", "--distance", "12km", "--time", "25:40"});
  EXPECT_TRUE(holds(answer.out, "reads as a ride of 26:11")) << answer.out << answer.err;
}

TEST_F(LogRide, AsksWhetherARunWasARide) {
  refused(import(watch_file("run.fit"), {"--work", "bike"}), 65,
          "the file says that this was \"running\", not a ride");
  EXPECT_EQ(import(watch_file("run.fit"), {"--work", "bike", "--sure"}).code, 0);
}

TEST_F(LogRide, WantsToKnowWhatARunWasWhereNoRunIsTrained) {
  refused(import(watch_file("run.fit")), 2, "it is not said which work this was: --work is missing");
}

TEST_F(LogRun, RefusesWhatIsNoRunOrCannotBe) {
  refused(import(watch_file("cycling.fit")), 65, "the file says that this was \"cycling\", not a run");
  refused(import(watch_file("bomb.gpx")), 65, "the XML declares a document type");
  refused(import(watch_file("cut-off.fit")), 65, "the file is cut off");
  refused(import(watch_file("run.fit"), {"--distance", "20 km"}), 65,
          "20 km in 12:00 is faster than anybody runs");
  refused(import(watch_file("run.fit"), {"--date", "2026-12-24"}), 65, "is after today");
  refused(import(watch_file("run.fit"), {"--work", "deadlift"}), 2,
          "\"deadlift\" is no work that a watch records");
  refused(import(watch_file("run.fit"), {"--minutes", "10"}), 2, "--minutes does not go with import");
}

TEST_F(LogRun, RefusesMoreThanAnEntryHolds) {
  const test::TemporaryFolder elsewhere;
  const auto path = elsewhere.write(
      "run.tcx",
      "<TrainingCenterDatabase><Activities><Activity Sport=\"Running\"><Lap "
      "StartTime=\"2026-11-28T06:00:00Z\">"
      "<TotalTimeSeconds>54000</TotalTimeSeconds><DistanceMeters>90000</DistanceMeters></Lap></Activity>"
      "</Activities></TrainingCenterDatabase>");
  refused(import(path.string()), 65, "it lasts 900 minutes; an entry holds 1 to 720");
}

TEST_F(LogRun, RefusesAFileOfAHundredMegabytesUnread) {
  const test::TemporaryFolder elsewhere;
  const auto path = elsewhere.write("run.gpx", "<gpx>");
  std::filesystem::resize_file(path, 100U << 20U);  // with a hole: it takes no room
  refused(import(path.string()), 65, "the file is larger than 32 MB");
}

TEST_F(LogRun, LeavesItsOptionsToTheFilesOfWatches) {
  const test::TemporaryFolder elsewhere;
  const auto path = elsewhere.write("history.csv", "date,work,minutes\n2026-11-28,tempo,30\n");
  refused(import(path.string(), {"--hard"}), 2, "--hard goes with the file of a watch, not with a table");
  const Answer typed = run_command({"log", "-C", folder_.path().string(), "tempo", "--work", "march"});
  refused(typed, 2, "--work does not go with tempo");
}

}  // namespace
}  // namespace backplan::cli

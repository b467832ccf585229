// A history as a table.
#include "io/history_csv.hpp"

#include <gtest/gtest.h>

#include <string>

#include "io/readers.hpp"
#include "io/value_text.hpp"
#include "property/shipped_data.hpp"
#include "support/text.hpp"

namespace backplan::io {
namespace {

using support::holds;

const Standard& army() { return testing::shipped_standard("us-army-aft"); }
const Model& model() { return testing::shipped_model(); }

Result<std::vector<HistoryRow>> read(const std::string& text) {
  const EntryContext context{army(), model(), read_date("2027-02-01").value.value()};
  return read_history(text, "history.csv", context);
}

std::vector<std::string> ids_of(const std::string& text) {
  std::vector<std::string> ids;
  const auto rows = read(text);
  EXPECT_TRUE(rows.ok()) << to_string(rows.faults().front());
  if (!rows.ok()) return ids;
  for (const HistoryRow& row : rows.value()) ids.push_back(row.entry.id);
  return ids;
}

std::string all_faults(const std::string& text) {
  const auto rows = read(text);
  EXPECT_FALSE(rows.ok());
  std::string all;
  if (!rows.ok()) {
    for (const Diagnostic& fault : rows.faults()) all += to_string(fault) + "\n";
  }
  return all;
}

constexpr const char* kHistory =
    "date,kind,work,minutes,sets,in_reserve,distance,time,hard,effort,event,value,setting,where,level,reason,"
    "note\n"
    "2026-12-01,work,deadlift,45,5@155 lb + 4@165 lb,2+1,,,,7,,,,,,,\n"
    "2026-12-02,,intervals,,,,2 mi,17:05,yes,,,,,,,,windy\n"
    "2026-12-03,,,,,,,,,,HRP,31,single,,,,\n"
    "2026-12-04,,,,,,,,,,,,,shin,2,,\n"
    "2026-12-05,missed,,,,,,,,,,,,,,duty,\n";

TEST(History, ReadsEveryKindOfEntry) {
  const auto rows = read(kHistory);
  ASSERT_TRUE(rows.ok()) << to_string(rows.faults().front());
  ASSERT_EQ(rows.value().size(), 5U);
  const auto& lift = std::get<WorkDone>(rows.value()[0].entry.what);
  ASSERT_EQ(lift.sets.size(), 2U);
  EXPECT_EQ(lift.sets[1].load->value, Pounds(165.0));
  EXPECT_EQ(lift.sets[1].in_reserve, 1.0);
  EXPECT_EQ(lift.effort, 7);
  EXPECT_TRUE(std::get<WorkDone>(rows.value()[1].entry.what).hard);
  EXPECT_EQ(rows.value()[1].entry.note, "windy");
  EXPECT_EQ(std::get<ResultDone>(rows.value()[2].entry.what).setting, Setting::single);
  EXPECT_EQ(std::get<Pain>(rows.value()[3].entry.what).level, 2);
  EXPECT_EQ(std::get<Missed>(rows.value()[4].entry.what).reason, "duty");
  EXPECT_EQ(rows.value()[4].line, 6);
}

TEST(History, ReadsSemicolonsDecimalCommasAByteOrderMarkAndCarriageReturns) {
  const std::string text =
      "\xEF\xBB\xBF"
      "date;work;sets;distance;time\r\n"
      "2026-12-01;deadlift;5@72,5 kg+3@80 kg;;\r\n"
      "2026-12-02;tempo;;2,5 mi;21:30\r\n";
  const auto rows = read(text);
  ASSERT_TRUE(rows.ok()) << to_string(rows.faults().front());
  const auto& lift = std::get<WorkDone>(rows.value()[0].entry.what);
  EXPECT_EQ(lift.sets[0].load->as_typed, "72.5 kg");
  EXPECT_EQ(std::get<WorkDone>(rows.value()[1].entry.what).distance->value, to_metres(Miles(2.5)));
  // The same content in another table is the same entry.
  EXPECT_EQ(ids_of(text), ids_of("work,date,time,distance,sets\n"
                                 "deadlift,2026-12-01,,,5@72.5 kg + 3@80 kg\n"
                                 "tempo,2026-12-02,21:30,2.5 mi,\n"));
}

TEST(History, GivesTheSameIdsAgainAndDifferentOnesToEqualRows) {
  EXPECT_EQ(ids_of(kHistory), ids_of(kHistory));
  const auto ids = ids_of("date,work\n2026-12-01,push_up\n2026-12-01,push_up\n2026-12-02,push_up\n");
  ASSERT_EQ(ids.size(), 3U);
  EXPECT_NE(ids[0], ids[1]);
  EXPECT_NE(ids[1], ids[2]);
  EXPECT_EQ(ids_of("date,work\n2026-12-02,push_up\n2026-12-01,push_up\n")[1], ids[0]);  // rows may move
}

TEST(History, TakesTheGuardOfSpreadsheetsOffFreeTexts) {
  const auto rows = read("date,kind,note,reason\n2026-12-01,missed,'=1+1,'twas late\n");
  ASSERT_TRUE(rows.ok());
  EXPECT_EQ(rows.value()[0].entry.note, "=1+1");
  EXPECT_EQ(std::get<Missed>(rows.value()[0].entry.what).reason, "'twas late");
}

TEST(History, TellsAllFaultsByLineAndColumn) {
  const std::string all = all_faults(
      "date,kind,work,minutes,time,event,value\n"
      "2026-13-01,work,deadlift,forty,,,\n"
      "2026-12-02,work,dedlift,45,,,\n"
      "2026-12-03,,,,,HRP,\n"
      "2026-12-04,,,,,,\n"
      "2026-12-05,work,intervals,,15.32,,\n"
      "2026-12-06,void,,,,,\n"
      "2026-12-07,missed,,45,,,\n");
  for (const char* part :
       {"history.csv:2:1: error: 2026-13-01 is no day of the calendar (at date)",
        "history.csv:2:26: error: expected a whole number from 1 to 720, found the text \"forty\"",
        "history.csv:3:17: error: unknown work \"dedlift\"",
        "history.csv:4:1: error: the key \"value\" is missing",
        "history.csv:5:1: error: it is not clear what this row is",
        "history.csv:6:28: error: \"15.32\" may be minutes or seconds (at time)",
        "history.csv:7:12: error: corrections cannot be imported",
        "history.csv:8:20: error: \"minutes\" does not go with missed (at minutes)"}) {
    EXPECT_TRUE(holds(all, part)) << part << "\n" << all;
  }
}

TEST(History, RefusesUnknownTwiceNamedAndMissingColumns) {
  EXPECT_TRUE(holds(all_faults("date,minuts\n"),
                    "history.csv:1:6: error: unknown column \"minuts\"\nhint: did you mean \"minutes\"?"));
  EXPECT_TRUE(holds(all_faults("date,work,work\n"), "the column \"work\" stands here twice"));
  EXPECT_TRUE(holds(all_faults("kind,work\n"), "the column \"date\" is missing"));
  EXPECT_TRUE(holds(all_faults("date;work;sets\n2026-12-01;deadlift\n"), "history.csv:2"));  // a ragged row
  EXPECT_TRUE(holds(all_faults("date,work\n2026-12-01,\"dead\n"), "history.csv:2"));         // an open quote
  EXPECT_TRUE(holds(all_faults(""), "history.csv"));
}

}  // namespace
}  // namespace backplan::io

// Standards that are nothing but texts: the combined events of athletics as formulas, and an invented
// test as one folder.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "backplan/score.hpp"
#include "support/standards.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

using support::replaced;

// A track event is scored floor(a(b - T)^c) in seconds, a throw floor(a(D - b)^c) in metres, a jump the
// same in centimetres. Coefficients: World Athletics combined events, from memory, confirmed by the
// worked results below.
struct FormulaEvent {
  std::string id;
  char kind;  // 't'rack, 'j'ump, 's'hot and other throws
  double a, b, c;
};

std::string event_json(const FormulaEvent& event) {
  const bool track = event.kind == 't';
  return fmt::format(
      R"({{"id": "{}", "name": "{}", "unit": "{}", "direction": "{}", "resolution": 0.01,
  "plausible": {{"least": {}, "most": {}}}, "model_event": "none",
  "formula": {{"a": {}, "b": {}, "c": {}, "per_unit": {}, "least": 0, "most": 1300}}}})",
      event.id, event.id, track ? "mm:ss" : "m", track ? "less_is_better" : "more_is_better", track ? 5 : 0,
      track ? 1000 : 120, event.a, event.b, event.c, event.kind == 'j' ? 100 : 1);
}

Standard combined_events(const std::vector<FormulaEvent>& events) {
  std::string list;
  for (const FormulaEvent& event : events) list += (list.empty() ? "" : ",\n") + event_json(event);
  const std::string text = R"({"format": "backplan-standard/1", "id": "combined", "title": "combined events",
 "source": "World Athletics", "effective_from": null, "columns": ["all"],
 "age_bands": [{"least": 0, "most": 99}], "points": {"least": 0, "most": 1500, "step": 1},
 "missing_rows": "none", "total": {"kind": "sum"},
 "categories": [{"id": "open", "name": "open", "source": "no pass mark"}], "events": [)" +
                           list + "]}";
  return test::read_or_fail({{"combined/standard.json", text}});
}

const std::vector<FormulaEvent>& decathlon() {
  static const std::vector<FormulaEvent> events{
      {"100m", 't', 25.4347, 18, 1.81}, {"LJ", 'j', 0.14354, 220, 1.4},
      {"SP", 's', 51.39, 1.5, 1.05},    {"HJ", 'j', 0.8465, 75, 1.42},
      {"400m", 't', 1.53775, 82, 1.81}, {"110mH", 't', 5.74352, 28.5, 1.92},
      {"DT", 's', 12.91, 4, 1.1},       {"PV", 'j', 0.2797, 100, 1.35},
      {"JT", 's', 10.14, 7, 1.08},      {"1500m", 't', 0.03768, 480, 1.85}};
  return events;
}

const std::vector<FormulaEvent>& heptathlon() {
  static const std::vector<FormulaEvent> events{
      {"100mH", 't', 9.23076, 26.7, 1.835}, {"HJ", 'j', 1.84523, 75, 1.348},  {"SP", 's', 56.0211, 1.5, 1.05},
      {"200m", 't', 4.99087, 42.5, 1.81},   {"LJ", 'j', 0.188807, 210, 1.41}, {"JT", 's', 15.9803, 3.8, 1.04},
      {"800m", 't', 0.11193, 254, 1.88}};
  return events;
}

struct WorkedResult {
  std::string event;
  double mark;
  int points;
};

void expect_worked(const Standard& standard, const std::vector<WorkedResult>& worked, int total) {
  std::vector<DatedResult> results;
  for (const WorkedResult& each : worked) {
    const Scale& scale = standard.scales.at({each.event, "all", {0, 99}});
    EXPECT_EQ(scale.score(each.mark).points, Points::whole(each.points)) << each.event << " " << each.mark;
    EXPECT_EQ(scale.score(each.mark).origin, Origin::formula);
    DatedResult dated;
    dated.event = each.event;
    dated.value = each.mark;
    results.push_back(dated);
  }
  if (total == 0) return;
  const ScoreCard card = score_results(results, standard, standard.categories.front(), "male", 26);
  EXPECT_EQ(card.total, Points::whole(total));
}

// FloTrack 2018-09-16 for the event points, Reuters for the total. The 1500 m is the published total of
// the second day less its other four events (the event line prints 710, which its own total contradicts).
TEST(FormulaStandard, GivesTheDecathlonRecordOf2018ToThePoint) {
  expect_worked(combined_events(decathlon()),
                {{"100m", 10.55, 963},
                 {"LJ", 7.80, 1010},
                 {"SP", 16.00, 851},
                 {"HJ", 2.05, 850},
                 {"400m", 48.42, 889},
                 {"110mH", 13.75, 1007},
                 {"DT", 50.54, 882},
                 {"PV", 5.45, 1051},
                 {"JT", 71.90, 918},
                 {"1500m", 276.11, 705}},
                9126);
}

// Marks: USATF release and LA Times 1988-09-24; points by formula; the published total is 7291.
TEST(FormulaStandard, GivesTheHeptathlonRecordOf1988ToThePoint) {
  expect_worked(combined_events(heptathlon()),
                {{"100mH", 12.69, 1172},
                 {"HJ", 1.86, 1054},
                 {"SP", 15.80, 915},
                 {"200m", 22.56, 1123},
                 {"LJ", 7.27, 1264},
                 {"JT", 45.66, 776},
                 {"800m", 128.51, 987}},
                7291);
}

// J. Barrow, nrich.maths.org (9.58, 10.22, 74.08); a sports site quoting the IAAF 2011 (10.51, 52.55).
// 74.08 m earns more than the rows that are built for planning: a formula has no top.
TEST(FormulaStandard, GivesSinglePublishedMarks) {
  expect_worked(combined_events(decathlon()),
                {{"100m", 10.51, 973},
                 {"DT", 52.55, 924},
                 {"100m", 9.58, 1202},
                 {"100m", 10.22, 1042},
                 {"DT", 74.08, 1383}},
                0);
}

// An invented test of a harbour crew: half points, one band and two, levels that are not filled.
const std::string kHarbourFrame = R"json({
 "format": "backplan-standard/1", "id": "harbour-crew", "title": "harbour crew test (invented)",
 "source": "invented for this test", "effective_from": "2026-01-01", "columns": ["all"],
 "age_bands": [{"least": 18, "most": 39}, {"least": 40, "most": 70}],
 "points": {"least": 0, "most": 10, "step": 0.5}, "missing_rows": "none", "total": {"kind": "mean"},
 "categories": [{"id": "deck", "name": "deck crew", "column": null, "each_minimum": 2.5, "total_minimum": 4,
                 "source": "invented"}],
 "events": [
  {"id": "ROPE", "name": "rope climb", "unit": "mm:ss", "direction": "less_is_better", "resolution": 0.1,
   "plausible": {"least": 2, "most": 300}, "model_event": "HRP"},
  {"id": "SACK", "name": "sack carry", "unit": "kg", "direction": "more_is_better", "resolution": 2.5,
   "plausible": {"least": 0, "most": 200}, "model_event": "MDL"}],
 "protocol": [{"topic": "rest between events", "value": null, "source": "not known"}]})json";

const std::string kHarbourCells =
    "event;column;age_min;age_max;points;result;origin;confidence;source\n"
    "ROPE;all;18;39;2,5;0:30.5;official;;invented\nROPE;all;18;39;10;0:12.0;official;;invented\n"
    "ROPE;all;40;70;2,5;0:40.0;official;;invented\nROPE;all;40;70;10;0:15.0;official;;invented\n"
    "SACK;all;18;39;2,5;40;official;;invented\nSACK;all;18;39;5;57,5;official;;invented\n"
    "SACK;all;40;70;2,5;30;official;;invented\nSACK;all;40;70;5;50;official;;invented\n";

std::vector<io::DataFile> harbour(const std::string& frame = kHarbourFrame,
                                  const std::string& cells = kHarbourCells) {
  return {{"harbour-crew/standard.json", frame}, {"harbour-crew/cells.csv", cells}};
}

std::string faults_of(const std::vector<io::DataFile>& folder) {
  const auto standard = io::read_standard(folder);
  return standard ? "" : test::all_messages(standard.faults());
}

TEST(StandardFolder, AddsATestWithoutCode) {
  const Standard standard = test::read_or_fail(harbour());
  DatedResult rope, sack;
  rope.event = "ROPE";
  rope.value = 30.46;  // counts as 30.5
  sack.event = "SACK";
  sack.value = 59.0;  // counts as 57.5
  const ScoreCard card = score_results({rope, sack}, standard, standard.categories.front(), "female", 39);
  EXPECT_EQ(card.events[0].points, Points::from_tenths(25));
  EXPECT_EQ(card.events[1].points, Points::whole(5));
  EXPECT_EQ(card.total, Points::from_tenths(37));  // 7.5 / 2 = 3.75, cut
  EXPECT_EQ(card.pass, false);
  EXPECT_EQ(card.events[0].next->points, Points::whole(10));  // levels are not filled
  EXPECT_EQ(standard.protocol.front().value, "");
}

TEST(StandardFolder, HasAHashThatChangesWithAnyFileAndNotWithTheirOrder) {
  std::vector<io::DataFile> turned = harbour();
  std::swap(turned[0], turned[1]);
  const std::string hash = test::read_or_fail(harbour()).content_hash;
  EXPECT_EQ(hash.size(), 16U);
  EXPECT_EQ(test::read_or_fail(turned).content_hash, hash);
  const std::string other = replaced(kHarbourCells, "57,5", "60");
  EXPECT_NE(test::read_or_fail(harbour(kHarbourFrame, other)).content_hash, hash);
}

struct Slip {
  std::string in;  // frame or cells
  std::string from, to, expected;
};

TEST(StandardFolder, RefusesEachSlipWithAPlaceAndAReason) {
  const std::vector<Slip> slips{
      {"frame", "\"missing_rows\"", "\"mising_rows\"", "missing_rows"},
      {"frame", "\"least\": 40, \"most\": 70", "\"least\": 41, \"most\": 70", "starts at 41"},
      {"frame", "\"least\": 40, \"most\": 70", "\"least\": 39, \"most\": 70", "without gap or overlap"},
      {"frame", "\"unit\": \"kg\"", "\"unit\": \"stone\"", "stone"},
      {"frame", "\"id\": \"SACK\"", "\"id\": \"ROPE\"", "is there twice"},
      {"frame", "\"column\": null", "\"column\": \"male\"", "unknown column \"male\""},
      {"frame", "\"resolution\": 2.5", "\"resolution\": 0", "resolution"},
      {"frame", "2026-01-01", "2026-13-01", "2026-13-01"},
      {"frame", "\"mean\"", "\"median\"", "median"},
      {"frame", "\"kind\": \"mean\"", "\"kind\": \"weighted\", \"weights\": {\"ROPE\": 1}",
       "no weight for SACK"},
      {"frame", "\"step\": 0.5", "\"step\": 0", "step of points"},
      {"cells", "ROPE;all;18;39;2,5", "RPOE;all;18;39;2,5", "2:1: error: unknown event \"RPOE\""},
      {"cells", "SACK;all;40;70;5;50", "SACK;male;40;70;5;50", "unknown column \"male\""},
      {"cells", "SACK;all;40;70;5;50", "SACK;all;40;69;5;50", "unknown age band 40-69"},
      {"cells", "SACK;all;40;70;5;50", "SACK;all;40;70;5;51", "no whole step"},
      {"cells", "SACK;all;40;70;5;50", "SACK;all;40;70;5;30", "not harder"},
      {"cells", "SACK;all;40;70;5;50", "SACK;all;40;70;2,5;50", "given twice"},
      {"cells", "SACK;all;40;70;5;50", "SACK;all;40;70;5,2;50", "no points value"},
      {"cells", "SACK;all;40;70;5;50", "SACK;all;40;70;5;500", "outside"},
      {"cells", "0:40.0;official", "0:40.0;rumour", "unknown origin"},
      {"cells", "0:40.0;official;;invented", "0:40.0;official;;", "no source"},
      {"cells", "0:40.0;official;;invented", "0:40.0;official;2;invented", "no confidence"},
      {"cells", "0:40.0", "40", "no result in mm:ss"},
      {"cells", "SACK;all;40;70;2,5;30;official;;invented\nSACK;all;40;70;5;50;official;;invented\n", "",
       "no cells for SACK, all, 40-70"}};
  for (const Slip& slip : slips) {
    const bool in_frame = slip.in == "frame";
    const std::string frame = in_frame ? replaced(kHarbourFrame, slip.from, slip.to) : kHarbourFrame;
    const std::string cells = in_frame ? kHarbourCells : replaced(kHarbourCells, slip.from, slip.to);
    EXPECT_NE(faults_of(harbour(frame, cells)).find(slip.expected), std::string::npos)
        << slip.from << " -> " << slip.to << "\n"
        << faults_of(harbour(frame, cells));
  }
}

// A minimum that the scale cannot give was taken as its lowest row.
TEST(StandardFolder, RefusesAMinimumThatNoRowGives) {
  const std::string frame = replaced(kHarbourFrame, "\"each_minimum\": 2.5", "\"each_minimum\": 5.5");
  EXPECT_NE(faults_of(harbour(frame)).find("the minimum of 5.5 points in SACK is over 5"), std::string::npos)
      << faults_of(harbour(frame));
}

// What the planner's tables hold: a seventeenth event was written beside them.
TEST(StandardFolder, RefusesMoreEventsThanATestCanHave) {
  std::string events;
  for (int i = 0; i < 17; ++i)
    events += fmt::format(R"({{"id": "E{}", "name": "event", "unit": "kg", "direction": "more_is_better",
      "resolution": 2.5, "plausible": {{"least": 0, "most": 200}}, "model_event": "MDL"}}{})",
                          i, i < 16 ? "," : "");
  const std::string frame = kHarbourFrame.substr(0, kHarbourFrame.find("\"events\"")) + "\"events\": [" +
                            events + kHarbourFrame.substr(kHarbourFrame.find("],\n \"protocol\""));
  EXPECT_NE(faults_of(harbour(frame)).find("17 events; a test has at most 16"), std::string::npos)
      << faults_of(harbour(frame));
}

TEST(StandardFolder, NamesAllFaultsOfAFileAtOnce) {
  std::string cells = replaced(kHarbourCells, "ROPE;all;18;39;2,5", "RPOE;all;18;39;2,5");
  cells = replaced(cells, "SACK;all;40;70;5;50", "SACK;all;40;70;5;51");
  const auto standard = io::read_standard(harbour(kHarbourFrame, cells));
  ASSERT_FALSE(standard.ok());
  EXPECT_EQ(standard.faults().size(), 2U);
}

TEST(StandardFolder, RefusesCellsOfAFormulaEventAndFormulasThatScoreNothing) {
  const std::string formula = R"("model_event": "MDL", "formula": {"a": 1, "b": 20, "c": 1, "most": 10})";
  const std::string frame = replaced(kHarbourFrame, "\"model_event\": \"MDL\"", formula);
  EXPECT_NE(faults_of(harbour(frame)).find("scored by a formula"), std::string::npos);
  const std::string nothing = replaced(frame, "\"b\": 20", "\"b\": 2000");
  EXPECT_NE(faults_of(harbour(nothing)).find("no plausible result"), std::string::npos);
}

TEST(StandardFolder, LetsAPublishedCellBeatARememberedOne) {
  const std::string cells = kHarbourCells + "SACK;all;40;70;5;55;memory;0,5;heard\n";
  const Standard standard = test::read_or_fail(harbour(kHarbourFrame, cells));
  EXPECT_EQ(standard.scales.at({"SACK", "all", {40, 70}}).rows().back().result, 50.0);
}

TEST(StandardFolder, WithoutAFrameIsRefused) {
  EXPECT_NE(faults_of({{"x/cells.csv", kHarbourCells}}).find("no standard.json"), std::string::npos);
  EXPECT_NE(faults_of({}).find("no standard.json"), std::string::npos);
}

}  // namespace
}  // namespace backplan

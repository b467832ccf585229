// The standards beside the Army's: every published cell at, just above and just below its result, and what
// each of them brought that the first two had not.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <map>
#include <set>
#include <string>
#include <vector>

#include "backplan/score.hpp"
#include "io/csv.hpp"
#include "io/value_text.hpp"
#include "support/standards.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

// One line of tests/standards/published.csv: a cell as it was printed ("52.5-55.0", "58 or more"), with
// where. The file was written from the sources, not from the data that it judges.
struct Printed {
  std::string standard, event, column;
  int age = 0;
  Points points;
  std::string result, source;
};

std::vector<Printed> printed_cells() {
  const std::string path = BACKPLAN_SOURCE_DIR "/tests/standards/published.csv";
  const auto table = io::read_csv(support::bytes_of(path), path);
  EXPECT_TRUE(table.ok());
  std::vector<Printed> cells;
  for (std::size_t i = 1; i < table.value().rows.size(); ++i) {
    const auto& row = table.value().rows[i];
    const double points = io::read_decimal(row[4].text).value();
    cells.push_back(
        {row[0].text, row[1].text, row[2].text, static_cast<int>(io::read_decimal(row[3].text).value()),
         Points::from_tenths(static_cast<std::int32_t>(points * 10.0)), row[5].text, row[6].text});
  }
  return cells;
}

const Standard& standard_of(const std::string& id) {
  static std::map<std::string, Standard> read;
  const auto found = read.find(id);
  return found != read.end() ? found->second : read.emplace(id, test::shipped_standard(id)).first->second;
}

double figure(std::string text) {
  const std::size_t colon = text.find(':');
  const double minutes = colon == std::string::npos ? 0.0 : io::read_decimal(text.substr(0, colon)).value();
  if (colon != std::string::npos) text = text.substr(colon + 1);
  return 60.0 * minutes + io::read_decimal(text).value();
}

// The easiest and the hardest printed result of the cell; they are the same where one was printed.
struct Range {
  double easiest = 0.0, hardest = 0.0;
  bool open_down = false;  // "or fewer", "or more" of a time: there is no row under it
};

Range range_of(const Printed& cell, Direction direction) {
  std::string text = cell.result;
  const bool more = direction == Direction::more_is_better;
  Range range;
  for (const std::string open : {" or more", " or fewer", " or less"}) {
    const std::size_t at = text.find(open);
    if (at == std::string::npos) continue;
    range.open_down = more ? open == " or fewer" : open == " or more";
    text.erase(at);
  }
  const std::size_t dash = text.find('-');
  const double first = figure(text.substr(0, dash));
  const double last = dash == std::string::npos ? first : figure(text.substr(dash + 1));
  range.easiest = more ? first : last;
  range.hardest = more ? last : first;
  return range;
}

const Scale& scale_of(const Printed& cell) {
  const Standard& standard = standard_of(cell.standard);
  return standard.scales.at({cell.event, cell.column, *standard.band_of(cell.age)});
}

TEST(OtherStandards, EveryPublishedCellHoldsAtItsResultAndNotOneStepBelow) {
  std::size_t judged = 0;
  for (const Printed& cell : printed_cells()) {
    SCOPED_TRACE(
        fmt::format("{} {} {} {} ({})", cell.standard, cell.event, cell.column, cell.result, cell.source));
    const Scale& scale = scale_of(cell);
    const Range range = range_of(cell, scale.direction());
    const double harder = scale.direction() == Direction::more_is_better ? 1.0 : -1.0;
    const double step = scale.resolution();
    EXPECT_EQ(scale.score(range.easiest).points, cell.points);
    EXPECT_EQ(scale.score(range.hardest).points, cell.points);
    EXPECT_GE(scale.score(range.hardest + harder * step).points, cell.points);
    if (!range.open_down) {
      EXPECT_LT(scale.score(range.easiest - harder * step).points, cell.points);
      EXPECT_EQ(scale.score(range.easiest).origin, Origin::published);
    }
    ++judged;
  }
  EXPECT_GT(judged, 300U);
}

TEST(OtherStandards, SayPublishedOfNothingThatIsNotAmongThePrintedCells) {
  std::set<std::tuple<std::string, std::string, std::string, AgeBand, Points>> printed;
  std::set<std::string> judged;
  for (const Printed& cell : printed_cells()) {
    const Standard& standard = standard_of(cell.standard);
    judged.insert(cell.standard);
    printed.insert({cell.standard, cell.event, cell.column, *standard.band_of(cell.age), cell.points});
  }
  for (const std::string& id : judged) {
    for (const auto& [key, scale] : standard_of(id).scales) {
      for (const Row& row : scale.rows()) {
        const bool known = printed.count({id, key.event, key.column, key.band, row.points}) > 0;
        EXPECT_EQ(row.origin == Origin::published, known)
            << id << " " << key.event << " " << key.column << " " << to_string(row.points);
        EXPECT_FALSE(row.source.empty());
      }
    }
  }
}

struct Done {
  std::string event;
  double value;
};

ScoreCard score(const Standard& standard, const std::vector<Done>& results, const std::string& column,
                int age, const std::string& category = {}) {
  std::vector<DatedResult> dated;
  for (const Done& one : results) {
    DatedResult result;
    result.event = one.event;
    result.value = one.value;
    dated.push_back(result);
  }
  const Category& rule = category.empty() ? standard.categories.front() : *standard.find_category(category);
  return score_results(dated, standard, rule, column, age);
}

// FloTrack 2018-09-16 for the event points, Reuters for the total of 9126.
TEST(OtherStandards, GiveTheDecathlonRecordOf2018ToThePoint) {
  const ScoreCard card = score(standard_of("athletics-decathlon"),
                               {{"100m", 10.55},
                                {"LJ", 7.80},
                                {"SP", 16.00},
                                {"HJ", 2.05},
                                {"400m", 48.42},
                                {"110mH", 13.75},
                                {"DT", 50.54},
                                {"PV", 5.45},
                                {"JT", 71.90},
                                {"1500m", 276.11}},
                               "all", 26);
  const std::vector<int> points{963, 1010, 851, 850, 889, 1007, 882, 1051, 918, 705};
  for (std::size_t i = 0; i < points.size(); ++i) EXPECT_EQ(card.events[i].points, Points::whole(points[i]));
  EXPECT_EQ(card.total, Points::whole(9126));
  EXPECT_EQ(card.pass, true);  // there is no pass mark
}

// Marks: USATF release and LA Times 1988-09-24; points by formula; the published total is 7291.
TEST(OtherStandards, GiveTheHeptathlonRecordOf1988ToThePoint) {
  const ScoreCard card = score(standard_of("athletics-heptathlon"),
                               {{"100mH", 12.69},
                                {"HJ", 1.86},
                                {"SP", 15.80},
                                {"200m", 22.56},
                                {"LJ", 7.27},
                                {"JT", 45.66},
                                {"800m", 128.51}},
                               "all", 26);
  const std::vector<int> points{1172, 1054, 915, 1123, 1264, 776, 987};
  for (std::size_t i = 0; i < points.size(); ++i) EXPECT_EQ(card.events[i].points, Points::whole(points[i]));
  EXPECT_EQ(card.total, Points::whole(7291));
}

// The rows of a formula are for planning; beyond them, up and down, the formula itself scores.
TEST(OtherStandards, AFormulaScoresUnderItsPlannedRowsToo) {
  const Scale& scale = standard_of("athletics-decathlon").scales.at({"100m", "all", {14, 99}});
  EXPECT_EQ(scale.rows().front().points, Points::whole(200));
  // 25.4347 (18 - 16)^1.81 = 89.19
  EXPECT_EQ(scale.score(16.0).points, Points::whole(89));
  EXPECT_EQ(scale.score(18.5).points, Points());
}

TEST(OtherStandards, AMissCostsTwoPointsAnEventAtTheFbiAndIsPartOfTheTotal) {
  const Standard& fbi = standard_of("us-fbi-pft");
  const ScoreCard card =
      score(fbi, {{"SITUP", 45}, {"SPRINT", 46.0}, {"PUSHUP", 19}, {"RUN", 700}}, "male", 30);
  EXPECT_EQ(card.events[2].points, Points::whole(-2));
  EXPECT_EQ(card.total, Points::whole(4 + 5 - 2 + 2));
  EXPECT_EQ(card.pass, false);
  EXPECT_NE(card.reasons.front().find("-2 points, at least 1 needed"), std::string::npos);
}

// Points of -1 do not exist there, and the chart of the Air Force has no 53 for the run: 53.5 comes after 52.
TEST(OtherStandards, FillNoRowsOfATableThatIsKnownWhole) {
  for (const auto& [key, scale] : standard_of("us-fbi-pft").scales) {
    for (const Row& row : scale.rows()) EXPECT_NE(row.points, Points::whole(-1));
  }
  const Standard& force = standard_of("us-air-force-pfa");
  EXPECT_EQ(force.scales.at({"RUN", "male", {17, 24}}).rows().size(), 22U);
  EXPECT_EQ(force.scales.at({"RUN", "male", {17, 24}}).score(12 * 60 + 34).points, Points::whole(52));
  // Push-ups are known at both ends only: 30 and 67.
  EXPECT_EQ(force.scales.at({"PUSHUP", "male", {17, 24}}).score(48).origin, Origin::interpolated);
}

TEST(OtherStandards, EachPartOfTheAirForceTestHasAMinimumOfItsOwn) {
  const Standard standard = with_choice(standard_of("us-air-force-pfa"), {"RUN"});
  // 59.5 and 20 and 20 points are 99.5; 29 push-ups are under the minimum of 30 and earn nothing.
  EXPECT_EQ(score(standard, {{"PUSHUP", 67}, {"SITUP", 58}, {"RUN", 570}}, "male", 20).total,
            Points::from_tenths(995));
  const ScoreCard card = score(standard, {{"PUSHUP", 29}, {"SITUP", 58}, {"RUN", 570}}, "male", 20);
  EXPECT_EQ(card.total, Points::from_tenths(795));  // over 75, and not enough
  EXPECT_EQ(card.pass, false);
  const ScoreCard slow = score(standard, {{"PUSHUP", 67}, {"SITUP", 58}, {"RUN", 951}}, "male", 20);
  EXPECT_EQ(slow.total, Points::whole(40));
}

// 205/3 was printed as 68 (Military.com); we keep the tenth that it was cut to.
TEST(OtherStandards, TheNavysTotalIsTheMeanOfThreeLevels) {
  const Standard standard = with_choice(standard_of("us-navy-prt"), {"SWIM450M"});
  const ScoreCard card =
      score(standard, {{"PUSHUP", 43}, {"PLK", 110}, {"SWIM450M", 13 * 60 + 35}}, "female", 22);
  ASSERT_EQ(card.events.size(), 3U);
  EXPECT_EQ(card.events[0].points, Points::whole(85));
  EXPECT_EQ(card.events[1].points, Points::whole(65));
  EXPECT_EQ(card.events[2].points, Points::whole(55));
  EXPECT_EQ(card.total, Points::from_tenths(683));
  EXPECT_EQ(card.pass, true);
}

TEST(OtherStandards, OfAlternatesTheFirstIsDoneUnlessAnotherIsChosen) {
  const auto ids = [](const Standard& standard) {
    std::string text;
    for (const Event& event : standard.events) text += event.id + " ";
    return text;
  };
  const Standard& marines = standard_of("us-marine-pft");
  EXPECT_TRUE(has_choices(marines));
  EXPECT_EQ(ids(with_choice(marines, {})), "PULLUP PLK RUN3MI ");
  const Standard chosen = with_choice(marines, {"PUSHUP"});
  EXPECT_EQ(ids(chosen), "PUSHUP PLK RUN3MI ");
  ASSERT_EQ(chosen.not_chosen.size(), 1U);
  EXPECT_EQ(chosen.not_chosen.front().id, "PULLUP");
  EXPECT_FALSE(has_choices(standard_of("us-fbi-pft")));
}

TEST(OtherStandards, APassOrFailTestCountsPassedEvents) {
  const Standard& force = standard_of("ca-force");
  EXPECT_TRUE(force.pass_or_fail);
  const ScoreCard card =
      score(force, {{"RUSHES", 51}, {"LIFT", 211}, {"SHUTTLES", 300}, {"DRAG", 20}}, "all", 30);
  EXPECT_EQ(card.total, Points::whole(3));
  EXPECT_EQ(card.pass, false);
  EXPECT_EQ(card.reasons.front(), "LIFT: 3:31 does not pass, 3:30 needed");
  EXPECT_EQ(score(force, {{"RUSHES", 51}, {"LIFT", 210}, {"SHUTTLES", 300}, {"DRAG", 20}}, "all", 30).pass,
            true);
}

TEST(OtherStandards, NameASourceForEveryFactAndRuleOfPassing) {
  for (const io::DataFile& file : io::embedded_data()) {
    if (file.path.find("/standard.json") == std::string::npos) continue;
    const std::string id = file.path.substr(10, file.path.find('/', 10) - 10);
    const Standard& standard = standard_of(id);
    EXPECT_EQ(standard.id, id);
    EXPECT_FALSE(standard.source.empty()) << id;
    for (const Category& category : standard.categories) EXPECT_FALSE(category.source.empty()) << id;
    std::set<std::string> topics;
    for (const ProtocolFact& fact : standard.protocol) {
      EXPECT_FALSE(fact.source.empty()) << id << ": " << fact.topic;
      topics.insert(fact.topic);
    }
    EXPECT_TRUE(topics.count("rest between events") == 1 && topics.count("warm-up") == 1) << id;
  }
}

}  // namespace
}  // namespace backplan

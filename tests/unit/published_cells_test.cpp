// Every cell of the two Army tests that was published, copied here by hand from what was published, so
// that a slip in the data files shows.
#include <gtest/gtest.h>

#include <array>
#include <string>
#include <vector>

#include "support/standards.hpp"

namespace backplan {
namespace {

struct PublishedCell {
  std::string event;
  std::string column;
  AgeBand band;
  int points;
  double result;
  std::string source;
};

constexpr double kMinute = 60.0;
const std::string kTaskAndPurpose = "Task & Purpose 2025-05-02";
const std::string kTimes = "New York Times, May 2025";
const std::string kRadio = "WUSF public radio 2025-07-15";
const std::string kNews2022 = "news report of March 2022";

std::vector<PublishedCell> five_event_cells() {
  return {{"HRP", "male", {17, 21}, 60, 15, kTaskAndPurpose},
          {"HRP", "male", {22, 26}, 60, 14, kTaskAndPurpose},
          {"HRP", "male", {27, 31}, 60, 14, kTaskAndPurpose},
          {"HRP", "female", {17, 21}, 60, 11, kTaskAndPurpose},
          {"HRP", "female", {22, 26}, 60, 11, kTaskAndPurpose},
          {"HRP", "female", {27, 31}, 60, 11, kTaskAndPurpose},
          {"MDL", "male", {27, 31}, 60, 150, kTimes},
          {"SDC", "male", {27, 31}, 60, 2 * kMinute + 32, kTimes},
          {"PLK", "male", {27, 31}, 60, 1 * kMinute + 20, kRadio},
          {"2MR", "male", {27, 31}, 60, 19 * kMinute + 45, kRadio}};
}

std::vector<PublishedCell> six_event_cells() {
  std::vector<PublishedCell> cells{{"MDL", "female", {17, 21}, 100, 210, kNews2022},
                                   {"MDL", "female", {17, 21}, 60, 120, kNews2022},
                                   {"MDL", "male", {17, 21}, 100, 340, kNews2022},
                                   {"MDL", "male", {17, 21}, 60, 140, kNews2022},
                                   {"2MR", "female", {17, 21}, 60, 23 * kMinute + 22, kTaskAndPurpose}};
  constexpr std::array<AgeBand, 10> kBands{
      {{17, 21}, {22, 26}, {27, 31}, {32, 36}, {37, 41}, {42, 46}, {47, 51}, {52, 56}, {57, 61}, {62, 99}}};
  for (const AgeBand band : kBands) {  // "10 at every age", both columns
    cells.push_back({"HRP", "male", band, 60, 10, kTaskAndPurpose});
    cells.push_back({"HRP", "female", band, 60, 10, kTaskAndPurpose});
  }
  return cells;
}

void expect_cells_hold(const std::string& id, const std::vector<PublishedCell>& cells) {
  const Standard standard = test::shipped_standard(id);
  for (const PublishedCell& cell : cells) {
    SCOPED_TRACE(id + " " + cell.event + " " + cell.column + " " + to_string(cell.band) + ", " + cell.source);
    const Scale& scale = standard.scales.at({cell.event, cell.column, cell.band});
    const double better = scale.direction() == Direction::more_is_better ? 1.0 : -1.0;
    const Points points = Points::whole(cell.points);
    const auto earned = [&](double steps) {
      return scale.score(cell.result + better * steps * scale.resolution()).points;
    };
    EXPECT_EQ(earned(0.0), points);
    EXPECT_EQ(scale.score(cell.result).origin, Origin::published);
    EXPECT_EQ(earned(0.9), points) << "less than a step better is no more";
    EXPECT_TRUE(earned(1.0).has_value() && *earned(1.0) >= points) << "a step better";
    EXPECT_TRUE(!earned(-0.1) || *earned(-0.1) < points) << "less than a step worse";
    EXPECT_TRUE(!earned(-1.0) || *earned(-1.0) < points) << "a step worse";
  }
}

TEST(PublishedCells, OfTheFiveEventTestHoldAtAboveAndBelowTheirResult) {
  ASSERT_EQ(five_event_cells().size(), 10U);
  expect_cells_hold("us-army-aft", five_event_cells());
}

TEST(PublishedCells, OfTheSixEventTestHoldAtAboveAndBelowTheirResult) {
  ASSERT_EQ(six_event_cells().size(), 25U);
  expect_cells_hold("us-army-acft-2022", six_event_cells());
}

TEST(PublishedCells, AreAllThePublishedCellsOfTheData) {
  for (const auto& [id, expected] : {std::pair<std::string, std::size_t>{"us-army-aft", 10U},
                                     std::pair<std::string, std::size_t>{"us-army-acft-2022", 25U}}) {
    std::size_t published = 0;
    for (const auto& [key, scale] : test::shipped_standard(id).scales) {
      for (const Row& row : scale.rows()) published += row.origin == Origin::published ? 1U : 0U;
    }
    EXPECT_EQ(published, expected) << id;
  }
}

// Common practice, no source: what a woman of 30 needs for 100 points in each event.
TEST(CommonPractice, AWomanOfThirtyEarnsAHundredOnTheSixEventTest) {
  const Standard standard = test::shipped_standard("us-army-acft-2022");
  const AgeBand band{27, 31};
  const std::vector<std::pair<std::string, double>> hundreds{
      {"MDL", 230.0}, {"HRP", 48.0}, {"SDC", kMinute + 55}, {"PLK", 3 * kMinute + 30}, {"2MR", 15 * kMinute}};
  for (const auto& [event, result] : hundreds) {
    const Scale& scale = standard.scales.at({event, "female", band});
    const double worse = scale.direction() == Direction::more_is_better ? -1.0 : 1.0;
    EXPECT_EQ(scale.score(result).points, Points::whole(100)) << event;
    EXPECT_LT(scale.score(result + worse * scale.resolution()).points, Points::whole(100)) << event;
  }
  const auto throw_row = standard.scales.at({"SPT", "female", band}).row_for(Points::whole(100));
  ASSERT_TRUE(throw_row.has_value());
  EXPECT_GE(throw_row->result, 8.4);
  EXPECT_LE(throw_row->result, 8.7);
}

}  // namespace
}  // namespace backplan

#include "io/table_import.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "backplan/score.hpp"
#include "io/cells.hpp"
#include "io/wide_table.hpp"
#include "property/shipped_data.hpp"
#include "support/standards.hpp"

namespace backplan::io {
namespace {

const Standard& aft() { return testing::shipped_standard("us-army-aft"); }

TableRequest request_for(const std::string& event, const std::string& column) {
  return {"table.txt", event, column, false};
}

// The shipped scale written as an official table would be, with dashes where points have no row.
std::vector<std::vector<std::string>> wide_cells(const std::string& event_id, const std::string& column) {
  const Event& event = *aft().find_event(event_id);
  std::vector<std::vector<std::string>> rows{{"Points"}};
  for (const AgeBand& band : aft().bands) rows[0].push_back(to_string(band));
  for (int points = 100; points >= 60; --points) {
    std::vector<std::string> row{std::to_string(points)};
    for (const AgeBand& band : aft().bands) {
      const auto found = aft().scales.at({event_id, column, band}).row_for(Points::whole(points));
      const bool own = found && found->points == Points::whole(points);
      row.push_back(own ? write_cell_result(found->result, event) : "---");
    }
    rows.push_back(row);
  }
  return rows;
}

std::string text_of(const std::vector<std::vector<std::string>>& rows, const std::string& separator = "\t") {
  std::string text;
  for (const auto& row : rows) text += fmt::format("{}\n", fmt::join(row, separator));
  return text;
}

std::string faults_of(const std::string& text, const TableRequest& request) {
  const auto table = import_table(text, request, aft());
  return table ? "" : test::all_messages(table.faults());
}

TEST(AgeBandText, IsReadAsDocumentsPrintIt) {
  const auto& bands = aft().bands;
  for (const std::string text : {"22-26",
                                 "22\xE2\x80\x93"
                                 "26",
                                 "22 - 26",
                                 "Ages 22\xE2\x80\x94"
                                 "26",
                                 "22-26 years"}) {
    EXPECT_EQ(read_band(text, bands), (AgeBand{22, 26})) << text;
  }
  for (const std::string text :
       {"62+", "62 +", "Over 62", "over 61", "62 and over", "62 and older", "62-99"}) {
    EXPECT_EQ(read_band(text, bands), (AgeBand{62, 99})) << text;
  }
  for (const std::string text : {"", "points", "22-27", "57+", "over 57", "17"}) {
    EXPECT_EQ(read_band(text, bands), std::nullopt) << text;
  }
}

TEST(CellResult, IsReadAsItIsWritten) {
  Event event;
  event.id = "DASH";
  event.most_plausible = 5000;
  for (const Unit unit : {Unit::second, Unit::metre}) {
    event.unit = unit;
    for (const double resolution : {0.01, 0.1, 0.5, 1.0}) {
      event.resolution = resolution;
      for (const double result : {7.0, 9.5, 30.5, 45.0, 60.0, 75.5, 3750.0}) {
        if (resolution > 0.5 && result != std::floor(result)) continue;
        const std::string text = write_cell_result(result, event);
        EXPECT_EQ(read_cell_result(text, event).value, result) << text << ", in steps of " << resolution;
      }
    }
  }
  event.unit = Unit::second;
  event.resolution = 0.1;
  EXPECT_EQ(write_cell_result(30.5, event), "0:30.5");
}

TEST(TableImport, ReadsTheWideShapeWithAnySeparatorAndOrder) {
  std::string expected;
  for (const std::string separator : {"\t", ",", ";", "   ", " "}) {
    for (const bool ascending : {false, true}) {
      auto rows = wide_cells("MDL", "female");
      if (ascending) std::reverse(rows.begin() + 1, rows.end());
      const auto table = import_table(text_of(rows, separator), request_for("MDL", "female"), aft());
      ASSERT_TRUE(table.ok()) << separator << test::all_messages(table.faults());
      ASSERT_EQ(table.value().files.size(), 1U);
      EXPECT_EQ(table.value().files[0].name, "MDL-female.cells.csv");
      if (expected.empty()) expected = table.value().files[0].text;
      EXPECT_EQ(table.value().files[0].text, expected) << separator << ascending;
    }
  }
}

TEST(TableImport, CountsWhatItReplaces) {
  const auto table = import_table(text_of(wide_cells("2MR", "male")), request_for("2MR", "male"), aft());
  ASSERT_TRUE(table.ok());
  const ImportSummary& summary = table.value().summary;
  EXPECT_EQ(summary.cells, 410U);  // 41 rows, 10 bands; every point of the run has its own second
  EXPECT_EQ(summary.agree_published, 1U);
  EXPECT_EQ(summary.replaced_memory, 19U);
  EXPECT_EQ(summary.replaced_interpolated, 390U);
  EXPECT_EQ(summary.differ, 0U);
  EXPECT_TRUE(table.value().warnings.empty());
}

TEST(TableImport, MakesTheScoreExact) {
  auto rows = wide_cells("MDL", "female");
  rows[1][3] = "250";  // 100 points at 27-31, where memory says 240
  const auto table = import_table(text_of(rows), request_for("MDL", "female"), aft());
  ASSERT_TRUE(table.ok()) << test::all_messages(table.faults());
  ASSERT_EQ(table.value().warnings.size(), 1U);
  EXPECT_EQ(table.value().warnings[0].line, 2);
  EXPECT_EQ(table.value().summary.differ, 1U);
  auto folder = test::shipped_folder("us-army-aft");
  folder.push_back({"standards/us-army-aft/" + table.value().files[0].name, table.value().files[0].text});
  const Standard standard = test::read_or_fail(folder);
  const Scale& scale = standard.scales.at({"MDL", "female", {27, 31}});
  EXPECT_EQ(scale.score(250).points, Points::whole(100));
  EXPECT_LT(scale.score(240).points, Points::whole(100));
  for (const Row& row : scale.rows()) EXPECT_EQ(row.origin, Origin::official);
  EXPECT_EQ(standard.scales.at({"MDL", "male", {27, 31}}).rows()[0].origin, Origin::published);
  EXPECT_NE(standard.content_hash, aft().content_hash);
}

TEST(TableImport, RefusesAClashWithAPublishedCellUnlessTheFileIsTrusted) {
  auto rows = wide_cells("HRP", "male");
  ASSERT_EQ(rows.back()[3], "14");  // published: 14 push-ups for 60 points at 27-31
  rows.back()[3] = "13";
  TableRequest request = request_for("HRP", "male");
  const std::string faults = faults_of(text_of(rows), request);
  EXPECT_NE(faults.find("table.txt:42:"), std::string::npos) << faults;
  EXPECT_NE(faults.find("13 for 60 points of HRP, male, 27-31, but the published cell says 14"),
            std::string::npos)
      << faults;
  EXPECT_NE(faults.find("--trust-file"), std::string::npos);
  request.trust_file = true;
  const auto table = import_table(text_of(rows), request, aft());
  ASSERT_TRUE(table.ok());
  EXPECT_EQ(table.value().summary.replaced_published, 1U);
  EXPECT_EQ(table.value().warnings.size(), 1U);
}

TEST(TableImport, NeverAcceptsAPartOfATable) {
  const auto whole = wide_cells("2MR", "female");
  auto without_band = whole;
  for (auto& row : without_band) row.pop_back();
  EXPECT_NE(faults_of(text_of(without_band), request_for("2MR", "female")).find("age band 62+ is missing"),
            std::string::npos);
  for (std::size_t row = 1; row < whole.size(); ++row) {
    auto without_row = whole;
    without_row.erase(without_row.begin() + static_cast<std::ptrdiff_t>(row));
    EXPECT_NE(faults_of(text_of(without_row), request_for("2MR", "female")).find("no row for"),
              std::string::npos)
        << row;
  }
  for (const std::size_t row : {std::size_t{1}, whole.size() - 1}) {
    auto without_end = whole;
    without_end[row][4] = "\xE2\x80\x93";
    EXPECT_NE(faults_of(text_of(without_end), request_for("2MR", "female")).find("no result for"),
              std::string::npos);
  }
  EXPECT_NE(faults_of(whole[0][0], request_for("2MR", "female")), "");
  EXPECT_NE(faults_of("", request_for("2MR", "female")), "");
}

TEST(TableImport, RefusesASlipInAnyCellWithItsPlace) {
  const std::vector<std::tuple<std::string, std::string, std::string>> slips{
      {"MDL", "155", "no whole step of 10 lb"},
      {"MDL", "900", "outside"},
      {"MDL", "15O", "no result in lb"},
      {"MDL", "2:30", "no result in lb"},
      {"2MR", "932", "no result in mm:ss"},
      {"2MR", "15:62", "no result in"},
      {"2MR", "15:32.5", "no whole step"},
      {"2MR", "2:00", "outside"},
      {"MDL", "120", "not harder"}};
  for (const auto& [event, cell, expected] : slips) {
    auto rows = wide_cells(event, "female");
    rows[1][3] = cell;
    const std::string faults = faults_of(text_of(rows, ","), request_for(event, "female"));
    EXPECT_NE(faults.find("table.txt:2:"), std::string::npos) << cell << "\n" << faults;
    EXPECT_NE(faults.find(expected), std::string::npos) << cell << "\n" << faults;
  }
}

TEST(TableImport, ReportsAllFaultsAtOnce) {
  auto rows = wide_cells("2MR", "female");
  rows[5][2] = "x";
  rows[9][7] = "1:00";
  const auto table = import_table(text_of(rows), request_for("2MR", "female"), aft());
  ASSERT_FALSE(table.ok());
  EXPECT_EQ(table.faults().size(), 2U);
}

TEST(TableImport, RefusesTheTableOfTheOtherColumnOrEvent) {
  EXPECT_NE(
      faults_of(text_of(wide_cells("HRP", "female")), request_for("HRP", "male")).find("published cell"),
      std::string::npos);
  EXPECT_NE(faults_of(text_of(wide_cells("HRP", "female")), request_for("2MR", "female")), "");
  EXPECT_NE(faults_of("", request_for("HRP", "")), "");
  const std::string text = text_of(wide_cells("HRP", "female"));
  EXPECT_NE(faults_of(text, request_for("HRPP", "female")).find("did you mean --event HRP?"),
            std::string::npos);
  EXPECT_NE(faults_of(text, request_for("HRP", "women")).find("unknown column"), std::string::npos);
}

TEST(TableImport, RefusesRepeatedOrUnorderedPointsAndForeignBands) {
  auto repeated = wide_cells("2MR", "female");
  repeated[3][0] = "99";
  EXPECT_NE(faults_of(text_of(repeated), request_for("2MR", "female")).find("99 points after 99"),
            std::string::npos);
  auto foreign = wide_cells("2MR", "female");
  foreign[0][2] = "22-27";
  EXPECT_NE(faults_of(text_of(foreign), request_for("2MR", "female")).find("\"22-27\" is no age band"),
            std::string::npos);
  auto twice = wide_cells("2MR", "female");
  twice[0][2] = "17-21";
  EXPECT_NE(faults_of(text_of(twice), request_for("2MR", "female")).find("is there twice"),
            std::string::npos);
}

TEST(TableImport, SkipsAHeaderThatIsRepeatedOnTheNextPage) {
  auto rows = wide_cells("2MR", "female");
  rows.insert(rows.begin() + 20, rows[0]);
  EXPECT_EQ(faults_of(text_of(rows), request_for("2MR", "female")), "");
}

TEST(TableImport, TakesAnEmptyCellAsNoRowWhereTheSeparatorShowsIt) {
  auto rows = wide_cells("MDL", "female");
  for (auto& row : rows) {
    for (std::string& cell : row) cell = cell == "---" ? "" : cell;
  }
  EXPECT_EQ(faults_of(text_of(rows, ";"), request_for("MDL", "female")), "");
  EXPECT_NE(faults_of(text_of(rows, "  "), request_for("MDL", "female")).find("a row of"), std::string::npos);
}

TEST(TableImport, ReadsItsOwnLongFormAndSeveralTablesInIt) {
  const auto women = import_table(text_of(wide_cells("2MR", "female")), request_for("2MR", "female"), aft());
  const auto men = import_table(text_of(wide_cells("2MR", "male")), request_for("2MR", "male"), aft());
  ASSERT_TRUE(women.ok() && men.ok());
  const std::string& first = women.value().files[0].text;
  const std::string second = men.value().files[0].text.substr(kLongHeader.size() + 1);
  const auto both = import_table(first + second, request_for("", ""), aft());
  ASSERT_TRUE(both.ok()) << test::all_messages(both.faults());
  ASSERT_EQ(both.value().files.size(), 2U);
  EXPECT_EQ(both.value().files[0].text, first);
  EXPECT_EQ(both.value().files[1].text, men.value().files[0].text);
  EXPECT_NE(faults_of(first + second, request_for("2MR", "female")).find("was asked for"), std::string::npos);
  EXPECT_NE(faults_of(first.substr(0, first.size() / 2), request_for("", "")), "");
}

TEST(ImportedCells, OfAPartOfATableAreNotReadWithTheStandardEither) {
  const auto table = import_table(text_of(wide_cells("2MR", "female")), request_for("2MR", "female"), aft());
  ASSERT_TRUE(table.ok());
  std::string text = table.value().files[0].text;
  text.resize(text.rfind('\n', text.size() - 2) + 1);  // the last row is gone
  auto folder = test::shipped_folder("us-army-aft");
  folder.push_back({"standards/us-army-aft/2MR-female.cells.csv", text});
  const auto standard = read_standard(folder);
  ASSERT_FALSE(standard.ok());
  EXPECT_NE(
      test::all_messages(standard.faults()).find("1 of 41 points values are missing for 2MR, female, 62+"),
      std::string::npos);
}

}  // namespace
}  // namespace backplan::io

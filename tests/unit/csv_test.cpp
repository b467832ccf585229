#include "io/csv.hpp"

#include <gtest/gtest.h>

namespace backplan::io {
namespace {

Diagnostics faults_of(std::string_view text, CsvLimits limits = {}) {
  const auto table = read_csv(text, "t.csv", std::nullopt, limits);
  return table ? Diagnostics{} : table.faults();
}

TEST(Csv, ReadsCellsWithTheirPlaces) {
  const auto table = read_csv("a,b\n1,22\n", "t.csv");
  ASSERT_TRUE(table.ok());
  ASSERT_EQ(table.value().rows.size(), 2U);
  EXPECT_EQ(table.value().rows[1][1].text, "22");
  EXPECT_EQ(table.value().rows[1][1].line, 2);
  EXPECT_EQ(table.value().rows[1][1].column, 3);
}

TEST(Csv, CountsColumnsInCharactersNotBytes) {
  const auto table = read_csv("\xC3\xA9\xC3\xA9,b\n", "t.csv");
  ASSERT_TRUE(table.ok());
  EXPECT_EQ(table.value().rows[0][1].column, 4);
}

TEST(Csv, SkipsAByteOrderMarkAndTakesBothLineEnds) {
  const auto table = read_csv("\xEF\xBB\xBFpoints,x\r\n60,1\n\r\n", "t.csv");
  ASSERT_TRUE(table.ok());
  ASSERT_EQ(table.value().rows.size(), 2U);
  EXPECT_EQ(table.value().rows[0][0].text, "points");
  EXPECT_EQ(table.value().rows[0][1].text, "x");
}

TEST(Csv, RefusesATextThatIsNotUtf8WithItsPlace) {
  const Diagnostics faults = faults_of("id,display\nL-1,\xC3\xA9 caf\xE9\n");
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_EQ(faults[0].line, 2);
  EXPECT_EQ(faults[0].column, 10);
  EXPECT_EQ(faults[0].message, "not a text in UTF-8: found the byte 0xe9");
  EXPECT_NE(faults[0].hint.find("UTF-8"), std::string::npos);
}

TEST(Csv, TakesTheSeparatorThatASpreadsheetNamesInAFirstLine) {
  for (const char* text : {"sep=;\nid;a,b\n1;2\n", "\xEF\xBB\xBF\"sep=;\"\r\nid;a,b\r\n1;2\r\n"}) {
    const auto table = read_csv(text, "t.csv");
    ASSERT_TRUE(table.ok());
    ASSERT_EQ(table.value().rows.size(), 2U);
    EXPECT_EQ(table.value().rows[0][1].text, "a,b");
    EXPECT_EQ(table.value().rows[1][1].line, 3);
  }
  EXPECT_EQ(bytes_before_header("sep=;\nid"), 6U);
  EXPECT_EQ(bytes_before_header("id;sep=;\n"), 0U);
}

TEST(Csv, ReadsQuotesSeparatorsAndLineEndsInsideQuotes) {
  const auto table = read_csv("a,b\n\"x, \"\"y\"\"\n z\",2\n", "t.csv");
  ASSERT_TRUE(table.ok());
  EXPECT_EQ(table.value().rows[1][0].text, "x, \"y\"\n z");
  EXPECT_EQ(table.value().rows[1][1].line, 3);
}

TEST(Csv, ReadsSemicolonsWithADecimalComma) {
  const auto table = read_csv("a;b\n8,4;1\n", "t.csv");
  ASSERT_TRUE(table.ok());
  EXPECT_EQ(table.value().separator, ';');
  EXPECT_TRUE(table.value().decimal_comma);
  EXPECT_EQ(decimal_text(table.value(), table.value().rows[1][0]), "8.4");
  EXPECT_EQ(decimal_text(table.value(), table.value().rows[0][0]), "a");
}

TEST(Csv, RefusesADecimalPointBesideADecimalComma) {
  const Diagnostics faults = faults_of("a;b\n8,4;8.5\n");
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_EQ(faults[0].line, 2);
  EXPECT_EQ(faults[0].column, 5);
}

TEST(Csv, ReadsTabsAndKeepsEmptyCells) {
  const auto table = read_csv("a\tb\tc\n1\t\t3\n", "t.csv");
  ASSERT_TRUE(table.ok());
  ASSERT_EQ(table.value().rows[1].size(), 3U);
  EXPECT_EQ(table.value().rows[1][1].text, "");
}

TEST(Csv, ReportsEveryRaggedRow) {
  const Diagnostics faults = faults_of("a,b\n1\n1,2\n1,2,3\n");
  ASSERT_EQ(faults.size(), 2U);
  EXPECT_EQ(faults[0].line, 2);
  EXPECT_EQ(faults[1].line, 4);
  EXPECT_EQ(faults[1].column, 5);
}

TEST(Csv, ReportsAnUnclosedQuoteWhereItOpens) {
  const Diagnostics faults = faults_of("a,b\n1,\"2\n3,4\n");
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_EQ(faults[0].line, 2);
  EXPECT_EQ(faults[0].column, 3);
}

TEST(Csv, RefusesStrayQuotesAndLoneCarriageReturns) {
  EXPECT_EQ(faults_of("a,b\n1x\"2,3\n").size(), 1U);
  EXPECT_EQ(faults_of("a,b\n\"1\"x,3\n").size(), 1U);
  EXPECT_EQ(faults_of("a,b\n1\rx,3\n").size(), 1U);
}

TEST(Csv, RefusesEmptyBinaryAndTooLargeTexts) {
  EXPECT_EQ(faults_of("").size(), 1U);
  EXPECT_EQ(faults_of("\n\n").size(), 1U);
  EXPECT_EQ(faults_of(std::string_view("a,\0b", 4)).size(), 1U);
  EXPECT_EQ(faults_of("a,b\n1,2\n3,4\n", {1000, 2}).size(), 1U);
  EXPECT_EQ(faults_of("a,b\n1,2\n", {1000, 2}).size(), 0U);
  EXPECT_EQ(faults_of("a,b\n1,2\n", {7, 2}).size(), 1U);
  EXPECT_EQ(faults_of("a,b\n1,2\n", {1000, 2, 1}).size(), 2U);
}

TEST(Csv, WritesCellsThatItReadsBack) {
  for (const std::string cell : {"plain", "a,b", "say \"x\"", " edge ", "line\nend", "a;b"}) {
    const auto table = read_csv(csv_field(cell) + ",2\n", "t.csv", ',');
    ASSERT_TRUE(table.ok()) << cell;
    EXPECT_EQ(table.value().rows[0][0].text, cell);
  }
}

}  // namespace
}  // namespace backplan::io

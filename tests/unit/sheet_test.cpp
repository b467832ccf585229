#include "io/sheet.hpp"

#include <gtest/gtest.h>

#include "io/csv.hpp"
#include "store/workbook_file.hpp"
#include "support/standards.hpp"

namespace backplan::io {
namespace {

Sheet small_sheet() {
  return {"Days",
          {{"date", 12}, {"what", 20}, {"figure", 8}},
          {{test::day(2026, 12, 1), std::string("5×5, \"heavy\"\nnext"), 190.0},
           {test::day(2026, 12, 3), std::string("=HYPERLINK(\"x\")"), -2.5}},
          true};
}

TEST(WriteCsv, QuotesWhereNeededAndEndsLinesAsTheStandardAsks) {
  EXPECT_EQ(write_csv(small_sheet()),
            "date,what,figure\r\n2026-12-01,\"5×5, \"\"heavy\"\"\nnext\",190\r\n"
            "2026-12-03,\"'=HYPERLINK(\"\"x\"\")\",-2.5\r\n");
}

TEST(WriteCsv, NeutralisesTextThatASpreadsheetWouldRunButNotNumbers) {
  for (const char* text : {"=1+1", "+1", "-1", "@x", "\tx", "\rx"}) {
    const Sheet sheet{"x", {{"a", 5}}, {{std::string(text)}}, true};
    const std::string line = write_csv(sheet).substr(3);
    EXPECT_EQ(line.find_first_not_of('"'), line.find('\'')) << text;
  }
  EXPECT_EQ(write_csv({"x", {{"a", 5}}, {{-1.0}}, true}), "a\r\n-1\r\n");
}

TEST(WriteCsv, IsReadBackAsItWas) {
  const auto read = read_csv(write_csv(small_sheet(), ByteOrderMark::first), "days.csv", ',');
  ASSERT_TRUE(read.ok());
  ASSERT_EQ(read.value().rows.size(), 3U);
  EXPECT_EQ(read.value().rows[1][1].text, "5×5, \"heavy\"\nnext");
  EXPECT_EQ(read.value().rows[2][2].text, "-2.5");
}

// A workbook is a zip file: it begins with a local file header (PKWARE's application note, 4.3.7).
TEST(Workbook, IsTheSameBytesForTheSameSheets) {
  const std::string once = store::workbook_bytes({small_sheet()}, test::day(2026, 12, 1));
  EXPECT_EQ(once.substr(0, 4), std::string("PK\x03\x04"));
  EXPECT_EQ(once, store::workbook_bytes({small_sheet()}, test::day(2026, 12, 1)));
  EXPECT_NE(once, store::workbook_bytes({small_sheet()}, test::day(2026, 12, 2)));
}

}  // namespace
}  // namespace backplan::io

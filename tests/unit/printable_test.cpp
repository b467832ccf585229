// Nothing that a file holds may steer the terminal of whoever reads a message about it.
#include "backplan/printable.hpp"

#include <gtest/gtest.h>

#include <string>

#include "backplan/result.hpp"
#include "io/json_write.hpp"

namespace backplan {
namespace {

TEST(Printable, LeavesTextOfAnyScriptAsItIs) {
  for (const char* text : {"", "L-07 Ash", "\xC3\x89lise \xC5\x81\xC3\xB3\xC5\xBA",
                           "\xE6\x9D\xB1\xE4\xBA\xAC", "\xF0\x9F\x8F\x83",
                           "non\xC2\xA0"
                           "breaking"}) {
    EXPECT_EQ(printable(text), text);
    EXPECT_TRUE(is_printable(text)) << text;
  }
}

// ECMA-48: the C0 and C1 sets; CSI is ESC [ or U+009B.
TEST(Printable, PutsAQuestionMarkForEveryControlCharacterOfBothSets) {
  EXPECT_EQ(printable("\x1B[31mred\n\t\x7F"), "?[31mred???");
  EXPECT_EQ(printable("a\xC2\x9B"
                      "31m\xC2\x80\xC2\x85"),
            "a?31m??");
  EXPECT_FALSE(is_printable("\xC2\x9B"));
}

TEST(Printable, PutsAQuestionMarkForMarksOfDirectionAndLineSeparators) {
  EXPECT_EQ(printable("a\xE2\x80\xAE"
                      "b\xE2\x81\xA6"
                      "c\xE2\x80\xA8"
                      "d"),
            "a?b?c?d");
}

// The twelve of the Unicode Bidirectional Algorithm (UAX 9, 2), and those beside them that are none.
TEST(Printable, PutsAQuestionMarkForEveryMarkThatTurnsTheDirectionOfWriting) {
  for (const char* mark :
       {"\xD8\x9C", "\xE2\x80\x8E", "\xE2\x80\x8F", "\xE2\x80\xAA", "\xE2\x80\xAB", "\xE2\x80\xAC",
        "\xE2\x80\xAD", "\xE2\x80\xAE", "\xE2\x81\xA6", "\xE2\x81\xA7", "\xE2\x81\xA8", "\xE2\x81\xA9"})
    EXPECT_EQ(printable(mark), "?");
  for (const char* other : {"\xD8\x9B", "\xD8\x9D", "\xE2\x80\x8D", "\xE2\x80\x90"})
    EXPECT_TRUE(is_printable(other));
}

TEST(Printable, PutsAQuestionMarkForEachByteThatIsNoUtf8) {
  EXPECT_EQ(printable("caf\xE9"), "caf?");
  EXPECT_EQ(printable("\x9B"
                      "31m"),
            "?31m");
  EXPECT_EQ(printable("a\xE2\x82"), "a??");
}

TEST(Printable, MakesEveryPartOfADiagnosticSo) {
  const Diagnostic fault{Severity::error, "a\x1B.csv", 2, 3, "x\xC2\x9B", "found \"\x1B[2J\"", "write\nit"};
  EXPECT_EQ(to_string(fault), "a?.csv:2:3: error: found \"?[2J\" (at x?)\nhint: write?it");
}

TEST(Printable, JsonEscapesWhatATerminalObeys) {
  io::Json json;
  json["a"] =
      "x\xC2\x9B"
      "y\x7F";
  EXPECT_EQ(io::one_line(json), "{\"a\":\"x\\u009by\\u007f\"}\n");
  EXPECT_EQ(io::Json::parse(io::one_line(json)), json);
}

}  // namespace
}  // namespace backplan

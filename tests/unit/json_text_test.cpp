#include "io/json_text.hpp"

#include <gtest/gtest.h>

#include "io/readers.hpp"

namespace backplan::io {
namespace {

// The first fault as it is printed; "" when the text is accepted.
std::string fault_of(std::string_view text) {
  const auto parsed = parse_json(text, "f.json");
  return parsed.ok() ? std::string() : to_string(parsed.faults().front());
}

std::shared_ptr<const JsonFile> parsed(std::string_view text) { return parse_json(text, "f.json").value(); }

TEST(JsonText, KnowsTheLineAndColumnOfEveryValueAndKey) {
  const auto file =
      parsed("{ \"a\": 1,\n  \"b\": [ true,\n \"x\\\"y\", {\"c\" :-2.5}] ,\n\"ü\":\"ü\", \"d\" : {} }");
  const auto place = [&](const char* pointer) {
    const Position p = file->places.at(pointer);
    return std::pair(p.line, p.column);
  };
  EXPECT_EQ(place(""), std::pair(1, 1));
  EXPECT_EQ(place("/a"), std::pair(1, 8));
  EXPECT_EQ(place("/b"), std::pair(2, 8));
  EXPECT_EQ(place("/b/0"), std::pair(2, 10));
  EXPECT_EQ(place("/b/1"), std::pair(3, 2));
  EXPECT_EQ(place("/b/2"), std::pair(3, 10));
  EXPECT_EQ(place("/b/2/c"), std::pair(3, 16));
  EXPECT_EQ(place("/d"), std::pair(4, 16));  // characters, not bytes
  EXPECT_EQ(file->keys.at("/b").column, 3);
  EXPECT_EQ(file->root["b"][2]["c"], -2.5);
}

TEST(JsonText, SkipsAByteOrderMark) {
  EXPECT_EQ(parsed("\xEF\xBB\xBF{\"a\": 1}")->places.at("/a").column, 7);
}

// The parser skips one, too: without a word of our own, places would count from the wrong byte, past the end.
TEST(JsonText, RefusesASecondByteOrderMark) {
  const auto read = parse_json("\xEF\xBB\xBF\xEF\xBB\xBF{\"a\": 1}", "a.json");
  ASSERT_FALSE(read.ok());
  EXPECT_EQ(
      to_string(read.faults().front()),
      "a.json:1:1: error: a second byte-order mark at the beginning\nhint: save the file as UTF-8 anew");
}

TEST(JsonText, NamesBothLinesOfADuplicateKeyAndFindsAllOfThem) {
  const auto result = parse_json("{\"a\": 1,\n\"b\": {\"c\": 1, \"c\": 2},\n\"a\": 3}", "f.json");
  ASSERT_FALSE(result.ok());
  ASSERT_EQ(result.faults().size(), 2U);
  EXPECT_EQ(to_string(result.faults()[0]),
            "f.json:2:15: error: the key \"c\" stands here a second time; the first is in line 2 (at /b/c)\n"
            "hint: keep one of the two");
  EXPECT_EQ(to_string(result.faults()[1]),
            "f.json:3:1: error: the key \"a\" stands here a second time; the first is in line 1 (at /a)\n"
            "hint: keep one of the two");
}

TEST(JsonText, SaysWhatIsWrongWithTheSyntaxAndWhere) {
  EXPECT_EQ(fault_of(""), "f.json: error: the file is empty\nhint: put one JSON object into it");
  EXPECT_EQ(fault_of(" \n\t"), "f.json: error: the file is empty\nhint: put one JSON object into it");
  EXPECT_EQ(fault_of("{\"a\": 1,\n}"), "f.json:1:8: error: a comma before \"}\"\nhint: take the comma out");
  EXPECT_EQ(fault_of("[1,\n,2]"), "f.json:2:1: error: two commas in a row\nhint: take one of them out");
  EXPECT_EQ(fault_of("{\"a\": 1\n \"b\": 2}"),
            "f.json:2:2: error: expected \",\" or \"}\", found text in quotes\nhint: put a comma between two "
            "entries");
  EXPECT_EQ(fault_of("{\"a\" 1}"),
            "f.json:1:6: error: expected \":\" after the key \"a\", found \"1\"\nhint: write \"key\": value");
  EXPECT_EQ(fault_of("{a: 1}"),
            "f.json:1:2: error: expected a key in double quotes, found \"a\"\nhint: put the key between "
            "double quotes");
  EXPECT_EQ(fault_of("{\"a\": 'x'}"),
            "f.json:1:7: error: single quotes are not allowed here\nhint: use double quotes");
  EXPECT_EQ(fault_of("{\"a\": 1, // why\n \"b\": 2}"),
            "f.json:1:10: error: a comment is not allowed here\nhint: take it out");
  EXPECT_EQ(fault_of("{\"a\": female}"),
            "f.json:1:7: error: expected a value, found \"female\"\nhint: put text between double quotes");
  EXPECT_EQ(
      fault_of("{} {}"),
      "f.json:1:4: error: expected the end of the text, found \"{\"\nhint: keep one JSON value in the file");
}

TEST(JsonText, SaysOfATruncatedTextWhatWasLeftOpen) {
  EXPECT_EQ(
      fault_of("{\"a\": 1,\n \"b\": [1, 2"),
      "f.json:2:12: error: the text ends too early: what was opened in line 2 is never closed by \"]\"\n"
      "hint: the file may have been cut off; write it again or restore a copy");
  EXPECT_EQ(fault_of("{\"a\": \"x"),
            "f.json:1:7: error: the quoted text has no closing quote\nhint: close it with \"");
  EXPECT_EQ(fault_of("{\"a\": \"x\n\"}"),
            "f.json:1:7: error: the quoted text has no closing quote in its line\n"
            "hint: close it with \" before the line ends");
}

TEST(JsonText, EveryPrefixOfAFileIsRefusedWithALine) {
  const std::string text = "{\"a\": [1, -2.5e3, \"x\\u00e9\\n\", null, true],\n \"b\": {\"c\": false}}";
  ASSERT_TRUE(parse_json(text, "f").ok());
  for (std::size_t length = 1; length < text.size(); ++length) {
    const auto result = parse_json(std::string_view(text).substr(0, length), "f");
    ASSERT_FALSE(result.ok()) << length;
    EXPECT_EQ(result.faults().size(), 1U) << length;
    EXPECT_GE(result.faults().front().line, 1) << length;
    EXPECT_FALSE(result.faults().front().message.empty()) << length;
  }
}

TEST(JsonText, RefusesNumbersThatAreNone) {
  EXPECT_EQ(fault_of("{\"a\": NaN}"),
            "f.json:1:7: error: NaN is no number that can be used\nhint: leave the key out if the value is "
            "not known");
  EXPECT_EQ(fault_of("[-Infinity]").substr(0, 52), "f.json:1:2: error: -Infinity is no number that can b");
  EXPECT_EQ(fault_of("[0, 1e999]"),
            "f.json:1:5: error: the number 1e999 is too large\nhint: write a number that is possible here");
  EXPECT_NE(fault_of("[01]"), "");
  EXPECT_NE(fault_of("[15:32]"), "");
  EXPECT_NE(fault_of("[+1]").find("not written as JSON writes numbers"), std::string::npos);
  EXPECT_NE(fault_of("[.5]").find("not written as JSON writes numbers"), std::string::npos);
}

TEST(JsonText, RefusesBinaryAndWronglyEncodedFiles) {
  EXPECT_EQ(fault_of(std::string_view("\x7f"
                                      "ELF\0\0",
                                      6)),
            "f.json:1:5: error: not a text in UTF-8: found the byte 0x00\n"
            "hint: check that this is the right file, and save it as UTF-8");
  EXPECT_EQ(fault_of("{\"a\":\n \"caf\xE9\"}").substr(0, 62),
            "f.json:2:6: error: not a text in UTF-8: found the byte 0xe9\nhi");
  for (const char* bad : {"\"\xC0\xAF\"", "\"\xED\xA0\x80\"", "\"\xF5\x80\x80\x80\"", "\"\xE2\x82\"",
                          "\"\x80\"", "\"\xF0\x80\x80\x80\""}) {
    EXPECT_NE(fault_of(bad).find("not a text in UTF-8"), std::string::npos);
  }
  EXPECT_EQ(fault_of("\"\xF0\x9F\x8F\x83 \xE2\x82\xAC \xC3\xA9\""), "");
  EXPECT_NE(fault_of("[\"\\ud800\"]"), "");
  EXPECT_NE(fault_of("[\"\\x\"]").find("unknown escape"), std::string::npos);
}

TEST(JsonText, RefusesDeepNestingAndTooManyValues) {
  const auto nested = [](int depth) {
    return std::string(static_cast<std::size_t>(depth), '[') +
           std::string(static_cast<std::size_t>(depth), ']');
  };
  EXPECT_EQ(fault_of(nested(kMostJsonDepth)), "");
  EXPECT_EQ(fault_of(nested(kMostJsonDepth + 1)),
            "f.json:1:33: error: more than 32 levels of brackets\nhint: check that this is the right file");
  EXPECT_EQ(fault_of(nested(1'000'000)), fault_of(nested(kMostJsonDepth + 1)));
  std::string many = "[0";
  for (std::size_t i = 0; i < kMostJsonValues; ++i) many += ",0";
  EXPECT_NE(fault_of(many + "]").find("more than 500000 values"), std::string::npos);
}

TEST(JsonText, RefusesAHundredMegabytesWithoutReadingThem) {
  const std::string text(100U << 20U, ' ');
  EXPECT_EQ(fault_of(text),
            "f.json: error: the file has 104857600 bytes; expected at most 16777216\n"
            "hint: check that this is the right file");
}

TEST(JsonCursor, ReadsTypedValuesAndCollectsEveryFault) {
  Diagnostics faults;
  const JsonCursor root(
      parsed("{\"n\": 3.7, \"i\": -1, \"b\": 1, \"t\": 4, \"w\": \"regulr\", \"l\": {}, \"big\": 1e300,"
             " \"whole\": 60.0, \"huge\": 18446744073709551615}"),
      faults);
  EXPECT_EQ(root.required("n").integer(0, 10), std::nullopt);
  EXPECT_EQ(root.required("i").integer(0, 10), std::nullopt);
  EXPECT_EQ(root.required("b").boolean(), std::nullopt);
  EXPECT_EQ(root.required("t").text(), std::nullopt);
  EXPECT_EQ(root.required("w").word({"new", "regular", "long"}), std::nullopt);
  EXPECT_TRUE(root.required("l").items().empty());
  EXPECT_EQ(root.required("big").integer(0, 10), std::nullopt);
  EXPECT_EQ(root.required("huge").integer(-5, 10), std::nullopt);
  EXPECT_EQ(root.required("whole").integer(0, 100), 60);
  EXPECT_EQ(root.required("none").integer(0, 100), std::nullopt);
  EXPECT_EQ(root.optional("nothing").text(), std::nullopt);
  ASSERT_EQ(faults.size(), 9U);
  EXPECT_EQ(to_string(faults[0]),
            "f.json:1:7: error: expected a whole number from 0 to 10, found the number 3.7 (at /n)");
  EXPECT_EQ(to_string(faults[2]), "f.json:1:26: error: expected true or false, found the number 1 (at /b)");
  EXPECT_EQ(to_string(faults[3]), "f.json:1:34: error: expected text in quotes, found the number 4 (at /t)");
  EXPECT_EQ(to_string(faults[4]),
            "f.json:1:42: error: expected one of new, regular, long; found \"regulr\" (at /w)\n"
            "hint: did you mean \"regular\"?");
  EXPECT_EQ(faults[5].message, "expected a list, found an object");
  EXPECT_EQ(to_string(faults[8]), "f.json:1:1: error: the key \"none\" is missing\nhint: add it");
  EXPECT_EQ(faults[8].missing_key, "none");
  EXPECT_EQ(faults[0].missing_key, std::nullopt);
}

TEST(JsonCursor, PointsAtAnUnknownKeyAndSuggestsTheNearest) {
  Diagnostics faults;
  const JsonCursor root(parsed("{\"colum\": 1,\n \"zzz\": 2, \"a/b~c\": 3}"), faults);
  root.allow_only({"column", "id"});
  ASSERT_EQ(faults.size(), 3U);
  EXPECT_EQ(to_string(faults[0]),
            "f.json:2:12: error: unknown key \"a/b~c\" (at /a~1b~0c)\nhint: known keys here: column, id");
  EXPECT_EQ(to_string(faults[1]),
            "f.json:1:2: error: unknown key \"colum\" (at /colum)\nhint: did you mean \"column\"?");
  EXPECT_EQ(faults[2].line, 2);
}

TEST(JsonCursor, BoundsTheFaultsOfAWrongFile) {
  std::string text = "{\"k0\": 0";
  for (int i = 1; i < 100'000; ++i) text += ",\"k" + std::to_string(i) + "\": 0";
  Diagnostics faults;
  JsonCursor(parsed(text + "}"), faults).allow_only({"column"});
  ASSERT_EQ(faults.size(), 101U);
  EXPECT_EQ(faults.back().message, "99900 further unknown keys");
  std::string twice = "{\"a\": 0";
  for (int i = 0; i < 100'000; ++i) twice += ",\"a\": 0";
  EXPECT_EQ(parse_json(twice + "}", "f.json").faults().size(), 1000U);
}

TEST(JsonCursor, SaysOnceThatAValueIsNoObject) {
  Diagnostics faults;
  const JsonCursor root(parsed("[1]"), faults);
  root.allow_only({"a"});
  EXPECT_FALSE(root.required("a").exists());
  EXPECT_FALSE(root.optional("b").text());
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_EQ(to_string(faults[0]), "f.json:1:1: error: expected an object, found a list");
}

TEST(NearestWord, FindsSlipsAndNothingElse) {
  const std::vector<std::string> words = {"birth_date", "column", "mon", "lb", "results"};
  EXPECT_EQ(nearest_word("brith_date", words), "birth_date");
  EXPECT_EQ(nearest_word("Column", words), "column");
  EXPECT_EQ(nearest_word("mno", words), "mon");
  EXPECT_EQ(nearest_word("lbs", words), "lb");
  EXPECT_EQ(nearest_word("result", words), "results");
  EXPECT_EQ(nearest_word("rslt", words), std::nullopt);
  EXPECT_EQ(nearest_word("xx", words), std::nullopt);
  EXPECT_EQ(nearest_word(std::string(100'000, 'a'), words), std::nullopt);
}

TEST(ContentHash, IsTheKnownFunction) {
  // Test values of FNV-1a, 64 bits, from the authors' reference page (memory).
  EXPECT_EQ(content_hash(""), "cbf29ce484222325");
  EXPECT_EQ(content_hash("a"), "af63dc4c8601ec8c");
  EXPECT_EQ(content_hash("foobar"), "85944171f73967e8");
}

}  // namespace
}  // namespace backplan::io

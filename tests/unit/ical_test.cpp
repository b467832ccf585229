// RFC 5545 by its own words: properties that must be there, folding, escaping. Foreign readers judge the same
// files in tests/look.
#include "io/ical.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <regex>
#include <string>
#include <vector>

#include "support/standards.hpp"

namespace backplan::io {
namespace {

CalendarFile one_day(const std::string& summary) {
  CalendarFile calendar;
  calendar.name = "Training of A-07";
  calendar.tool_version = "0.1.0";
  calendar.revised = test::day(2026, 12, 1);
  calendar.sequence = 3;
  calendar.events.push_back(
      {"A-07|x|2026-12-31", test::day(2026, 12, 31), std::nullopt, 45, summary, "a; b, c\\d\ne", false});
  return calendar;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t to = text.find("\r\n", from);
    EXPECT_NE(to, std::string::npos) << "a line without CRLF";
    if (to == std::string::npos) break;
    lines.push_back(text.substr(from, to - from));
    from = to + 2;
  }
  return lines;
}

// As section 3.1 says a reader undoes the folding.
std::string unfolded(std::string text) {
  for (std::size_t at = text.find("\r\n "); at != std::string::npos; at = text.find("\r\n ", at))
    text.erase(at, 3);
  return text;
}

TEST(Calendar, HasEveryPropertyThatMustBeThereOnce) {
  const std::string text = unfolded(write_calendar(one_day("run")));
  const auto times = [&](const std::string& pattern) {
    const std::regex regex("(^|\\n)" + pattern + "\\r");
    return std::distance(std::sregex_iterator(text.begin(), text.end(), regex), std::sregex_iterator());
  };
  EXPECT_EQ(times("BEGIN:VCALENDAR"), 1);
  EXPECT_EQ(times("VERSION:2\\.0"), 1);
  EXPECT_EQ(times("PRODID:[^\\r]+"), 1);
  EXPECT_EQ(times("UID:[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}"), 1);
  EXPECT_EQ(times("DTSTAMP:20261201T000000Z"), 1);
  EXPECT_EQ(times("SEQUENCE:3"), 1);
  EXPECT_EQ(times("METHOD[^\\r]*"), 0);
}

TEST(Calendar, AWholeDayEndsOnTheNextOneEvenAtTheEndOfTheYear) {
  const std::string text = write_calendar(one_day("run"));
  EXPECT_NE(text.find("DTSTART;VALUE=DATE:20261231\r\n"), std::string::npos);
  EXPECT_NE(text.find("DTEND;VALUE=DATE:20270101\r\n"), std::string::npos);
}

TEST(Calendar, AStartIsFloatingAndMayRunPastMidnight) {
  CalendarFile calendar = one_day("run");
  calendar.events[0].starts = 23 * 60 + 30;
  const std::string text = write_calendar(calendar);
  EXPECT_NE(text.find("DTSTART:20261231T233000\r\n"), std::string::npos);
  EXPECT_NE(text.find("DTEND:20270101T001500\r\n"), std::string::npos);
}

TEST(Calendar, EscapesWhatSeparatesAndKeepsColons) {
  const std::string text = unfolded(write_calendar(one_day("a: b, c")));
  EXPECT_NE(text.find("SUMMARY:a: b\\, c\r\n"), std::string::npos);
  EXPECT_NE(text.find("DESCRIPTION:a\\; b\\, c\\\\d\\ne\r\n"), std::string::npos);
}

// The classic fault counts characters instead of octets: it shows only where a character of several octets
// lies on the edge.
TEST(Calendar, FoldsAtSeventyFiveOctetsAndNeverInsideACharacter) {
  for (std::size_t before = 55; before < 75; ++before) {
    std::string summary(before, 'x');
    for (int i = 0; i < 40; ++i) summary += i % 2 == 0 ? "\u00fc" : "\U0001F3C3";
    const std::string text = write_calendar(one_day(summary));
    for (const std::string& line : lines_of(text)) {
      EXPECT_LE(line.size(), 75U);
      const std::size_t first = !line.empty() && line[0] == ' ' ? 1 : 0;
      ASSERT_LT(first, line.size());
      EXPECT_NE(static_cast<unsigned char>(line[first]) & 0xC0U, 0x80U) << "a line begins inside a character";
    }
    EXPECT_NE(unfolded(text).find(summary), std::string::npos);
  }
}

TEST(Calendar, AlarmsAreOptInAndStayOnTheSameDay) {
  CalendarFile calendar = one_day("run");
  EXPECT_EQ(write_calendar(calendar).find("VALARM"), std::string::npos);
  calendar.alarms = true;
  EXPECT_NE(write_calendar(calendar).find("TRIGGER:PT6H\r\n"), std::string::npos);
  calendar.events[0].starts = 390;
  EXPECT_NE(write_calendar(calendar).find("TRIGGER:-PT30M\r\n"), std::string::npos);
}

}  // namespace
}  // namespace backplan::io

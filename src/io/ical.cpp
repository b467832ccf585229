#include "io/ical.hpp"

#include <fmt/format.h>
#include <uuid/uuid.h>

#include <array>
#include <string_view>

#include "io/value_text.hpp"

namespace backplan::io {
namespace {

constexpr std::size_t kMostOctets = 75;  // of a line, RFC 5545 section 3.1
constexpr int kMinutesOfHour = 60, kMinutesOfDay = 24 * kMinutesOfHour;
// Made once for this program, as RFC 4122 asks of a name space of one's own.
constexpr const char* kNameSpace = "6f0d1c4e-52c7-4b0a-9d57-0b8f6d2a9e31";

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || c == ';' || c == ',') out += '\\';
    if (c == '\n') {
      out += "\\n";
    } else if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f) {
      out += c;
    }
  }
  return out;
}

bool begins_a_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

// Folded between characters, never inside one; the space of a folded line counts.
std::string folded(const std::string& line) {
  std::string out;
  std::size_t on_line = 0;
  for (std::size_t i = 0; i < line.size();) {
    std::size_t next = i + 1;
    while (next < line.size() && !begins_a_character(line[next])) ++next;
    if (on_line + (next - i) > kMostOctets) {
      out += "\r\n ";
      on_line = 1;
    }
    out += line.substr(i, next - i);
    on_line += next - i;
    i = next;
  }
  return out + "\r\n";
}

std::string date_text(Date date) {
  std::string text = write_date(date);
  text.erase(7, 1);
  text.erase(4, 1);
  return text;
}

// UUID version 5 (RFC 4122): the same key gives the same one.
std::string uid_of(const std::string& key) {
  uuid_t name_space;
  uuid_t id;
  uuid_parse(kNameSpace, name_space);
  uuid_generate_sha1(id, name_space, key.data(), key.size());
  std::array<char, UUID_STR_LEN> text{};
  uuid_unparse_lower(id, text.data());
  return text.data();
}

std::string time_text(Date date, int minutes) {
  const Date day = date + Days(minutes / kMinutesOfDay);
  const int left = minutes % kMinutesOfDay;
  return fmt::format("{}T{:02}{:02}00", date_text(day), left / kMinutesOfHour, left % kMinutesOfHour);
}

std::string alarm_text(const CalendarEvent& event) {
  return folded("BEGIN:VALARM") + folded("ACTION:DISPLAY") + folded("DESCRIPTION:" + escaped(event.summary)) +
         folded(event.starts ? fmt::format("TRIGGER:-PT{}M", kAlarmMinutesBefore)
                             : fmt::format("TRIGGER:PT{}H", kAlarmHour)) +
         folded("END:VALARM");
}

std::string event_text(const CalendarEvent& event, const CalendarFile& calendar) {
  std::string out = folded("BEGIN:VEVENT");
  out += folded("UID:" + uid_of(event.key));
  out += folded("DTSTAMP:" + date_text(calendar.revised) + "T000000Z");
  out += folded(fmt::format("SEQUENCE:{}", calendar.sequence));
  if (event.starts) {
    out += folded("DTSTART:" + time_text(event.date, *event.starts));
    out += folded("DTEND:" + time_text(event.date, *event.starts + event.minutes));
  } else {
    out += folded("DTSTART;VALUE=DATE:" + date_text(event.date));
    out += folded("DTEND;VALUE=DATE:" + date_text(event.date + Days(1)));
  }
  out += folded("SUMMARY:" + escaped(event.summary));
  if (!event.description.empty()) out += folded("DESCRIPTION:" + escaped(event.description));
  if (!event.starts) out += folded("TRANSP:TRANSPARENT");
  out += folded(event.cancelled ? "STATUS:CANCELLED" : "STATUS:CONFIRMED");
  if (calendar.alarms && !event.cancelled) out += alarm_text(event);
  return out + folded("END:VEVENT");
}

}  // namespace

std::string write_calendar(const CalendarFile& calendar) {
  std::string out = folded("BEGIN:VCALENDAR") + folded("VERSION:2.0");
  out += folded(fmt::format("PRODID:-//backplan//backplan {}//EN", calendar.tool_version));
  out += folded("NAME:" + escaped(calendar.name)) + folded("X-WR-CALNAME:" + escaped(calendar.name));
  for (const CalendarEvent& event : calendar.events) out += event_text(event, calendar);
  return out + folded("END:VCALENDAR");
}

}  // namespace backplan::io

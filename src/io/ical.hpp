// A calendar file (RFC 5545): days of training for any calendar program.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/units.hpp"

namespace backplan::io {

struct CalendarEvent {
  std::string key;  // what makes its UID: the same key is the same event in every file
  Date date;
  std::optional<int> starts;  // minutes after midnight, wherever the person is; none: the whole day
  int minutes = 0;            // of an event that has a start
  std::string summary, description;
  bool cancelled = false;
};

struct CalendarFile {
  std::string name;
  std::string tool_version;
  Date revised;      // when the plan was made: every DTSTAMP
  int sequence = 0;  // counts the plan's revisions
  bool alarms = false;
  std::vector<CalendarEvent> events;
};

// When alarms ring: so long before an event with a start, at this hour of a whole day.
inline constexpr int kAlarmMinutesBefore = 30;
inline constexpr int kAlarmHour = 6;

// Lines end in CRLF and hold at most 75 octets; floating times, no METHOD.
[[nodiscard]] std::string write_calendar(const CalendarFile& calendar);

}  // namespace backplan::io

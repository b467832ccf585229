// Who is at which station in which turns: what all the sheets of a squad share.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "backplan/programme.hpp"
#include "report/names.hpp"

namespace backplan::report {

// The name on the sheets, with the id where two people have the same one; the id of who has left.
[[nodiscard]] std::string name_of(const Programme& programme, const Person& person);
// The same, fit for a terminal.
[[nodiscard]] std::string display_of(const Programme& programme, const Person& person);
[[nodiscard]] std::string display_of(const Programme& programme, const std::string& id);

// The last test of anybody who is planned: weeks count back from it. The squad's own, where nobody's is
// later.
[[nodiscard]] Date last_test(const Programme& programme);

// People of a station in the order of their first turn.
[[nodiscard]] std::vector<std::string> people_at(const Station& station);
// "deadlift day, bar 1 (60 lb bar with 2×45 a side); a note".
[[nodiscard]] std::string place_of(const Station& station, const Names& names);
// On a shared lane somebody has more than one turn.
[[nodiscard]] bool is_shared(const Station& station);
[[nodiscard]] double last_minute(const Station& station);
// " (to 32:00)", " (from 12:00)": what differs from the times of the whole station; else empty.
[[nodiscard]] std::string own_times(const Station& station, const Turn& turn);

// One person at one station.
struct Visit {
  const Station* station = nullptr;
  std::size_t number = 0;  // of the station in its morning, from 1
  std::vector<const Turn*> turns;
};
// In the order of their first minute.
[[nodiscard]] std::vector<Visit> visits_of(const Morning& morning, const std::string& id);

// Kinds of work of a morning in the order of their first minute, with the people of each.
struct MorningWork {
  std::string work;
  std::vector<std::string> people;
  std::vector<std::string> off;  // those of them for whom it is off
};
[[nodiscard]] std::vector<MorningWork> works_of(const Morning& morning);

// "; OFF: A, B" after the people of a work; "" where it is off for none.
[[nodiscard]] std::string off_people(const MorningWork& work, const Programme& programme);

// Who is still to be tested, but is at no station.
[[nodiscard]] std::vector<const Person*> absent_from(const Programme& programme, const Morning& morning);

// Days on which somebody has something to do, in a morning or at home.
[[nodiscard]] std::set<Date> active_days(const Programme& programme);

// Who is planned, the least likely to pass first.
[[nodiscard]] std::vector<const Person*> by_risk(const Programme& programme);
[[nodiscard]] bool is_at_risk(const Programme& programme, const Person& person);

// What is in view from a day on: its week and the next, where there are mornings; else none.
struct DaySpan {
  Date from, to;  // both included
  [[nodiscard]] bool holds(Date date) const { return date >= from && date <= to; }
};
[[nodiscard]] DaySpan two_weeks_from(const Programme& programme, Date today);
[[nodiscard]] DaySpan week_span(const Programme& programme, int index);

}  // namespace backplan::report

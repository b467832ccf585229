#include "report/squad_exports.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "backplan/units.hpp"
#include "io/value_text.hpp"
#include "report/squad_text.hpp"
#include "report/squad_words.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr const char* kNoAdvice = "No medical advice. Pain stops the work.";
constexpr const char* kGone = "No training on this day any more";

std::string line_of(const std::string& prescription) { return printable(prescription) + "\n"; }

std::string key_of(const Programme& programme, const std::string& who, const std::string& what) {
  return fmt::format("squad|{}|{}|{}|{}", programme.squad, programme.standard, who, what);
}

io::CalendarFile calendar_of(const Programme& programme, const std::string& name,
                             const CalendarWishes& wishes, const std::string& tool_version) {
  io::CalendarFile calendar;
  calendar.name = name;
  calendar.tool_version = tool_version;
  calendar.revised = programme.as_of;
  calendar.sequence = programme.revision;
  calendar.alarms = wishes.alarms;
  return calendar;
}

// Every day on which this or an earlier revision had something for somebody, when there was an earlier one.
std::set<Date> days_of_all_revisions(const Programme& programme) {
  if (programme.revision == 0) return {};
  std::set<Date> days = active_days(programme);
  days.insert(programme.withdrawn.begin(), programme.withdrawn.end());
  return days;
}

// The events of days, the cancelled ones and the test, by date.
io::CalendarFile completed(io::CalendarFile calendar, const Programme& programme, const std::string& who,
                           Date test_date, const Names& names) {
  std::set<Date> taken;
  for (const io::CalendarEvent& event : calendar.events) taken.insert(event.date);
  for (const Date date : days_of_all_revisions(programme)) {
    if (date >= programme.as_of && taken.count(date) == 0)
      calendar.events.push_back(
          {key_of(programme, who, io::write_date(date)), date, std::nullopt, 0, kGone, {}, true});
  }
  io::CalendarEvent test;
  test.key = key_of(programme, who, "test");
  test.date = test_date;
  test.summary = fmt::format("Test of record: {}", names.standard.title);
  calendar.events.push_back(std::move(test));
  std::stable_sort(calendar.events.begin(), calendar.events.end(),
                   [](const auto& a, const auto& b) { return a.date < b.date; });
  return calendar;
}

std::string people_text(const MorningWork& work, const Programme& programme) {
  std::string text;
  for (const std::string& id : work.people) text += (text.empty() ? "" : ", ") + display_of(programme, id);
  return text + off_people(work, programme);
}

std::string lane_of(const Station& station) {
  return station.lane.empty() ? "" : ", " + printable(station.lane);
}

// What one person does on a day, at the squad's place and at home.
struct PersonDay {
  std::string summary, description;
  int morning_minutes = 0, home_minutes = 0;
};

PersonDay person_day(const Programme& programme, const Person& person, Date date, const Names& names) {
  PersonDay out;
  const auto add = [&out](const std::string& work, const std::string& line, bool off) {
    out.summary += (out.summary.empty() ? "" : ", ") + work + (off ? " (OFF)" : "");
    out.description += line;
  };
  for (const Morning& morning : programme.mornings) {
    if (morning.date != date) continue;
    for (const Visit& visit : visits_of(morning, person.id)) {
      out.morning_minutes = morning.minutes;
      const std::string work = names.work(visit.station->work);
      add(work,
          fmt::format("{} {}{}: {}", minute_text(visit.turns.front()->from), work, lane_of(*visit.station),
                      line_of(visit.turns.front()->prescription)),
          visit.turns.front()->off.has_value());
    }
  }
  for (const Extra& extra : person.extra) {
    if (extra.date != date) continue;
    const std::string work = names.work(extra.block.work);
    out.home_minutes += extra.block.minutes;
    add(work + " at home",
        fmt::format("At home, {} min {}: {}", extra.block.minutes, work, line_of(extra.block.prescription)),
        extra.off.has_value());
  }
  return out;
}

io::SheetCell load_cell(const Turn& turn) {
  return turn.load ? io::SheetCell(turn.load->value()) : io::SheetCell(std::string());
}

io::SheetCell pace_cell(const Turn& turn) {
  return turn.quarter ? io::SheetCell(turn.quarter->value()) : io::SheetCell(std::string());
}

std::string starts_text(const Visit& visit) {
  std::string text;
  for (const Turn* turn : visit.turns) text += (text.empty() ? "" : ", ") + minute_text(turn->from);
  return text;
}

io::Sheet week_sheet(const Programme& programme, const Names& names, const DaySpan& span) {
  io::Sheet sheet{"Squad week",
                  {{"date", 12},
                   {"day", 6},
                   {"from", 8},
                   {"to", 8},
                   {"station", 44},
                   {"who", 18},
                   {"starts at", 18},
                   {"load_lb", 9},
                   {"prescription", 64}},
                  {},
                  true};
  for (const Morning& morning : programme.mornings) {
    if (!span.holds(morning.date)) continue;
    for (std::size_t i = 0; i < morning.stations.size(); ++i) {
      const Station& station = morning.stations[i];
      for (const std::string& id : people_at(station)) {
        for (const Visit& visit : visits_of(morning, id)) {
          if (visit.number != i + 1) continue;
          sheet.rows.push_back({morning.date, short_date(morning.date).substr(0, 3),
                                minute_text(visit.turns.front()->from), minute_text(visit.turns.back()->to),
                                printable(place_of(station, names)), display_of(programme, id),
                                starts_text(visit), load_cell(*visit.turns.front()),
                                printable(visit.turns.front()->prescription)});
        }
      }
    }
  }
  return sheet;
}

io::Sheet personal_sheet(const Programme& programme, const Names& names, const DaySpan& span) {
  io::Sheet sheet{"Personal sheets",
                  {{"who", 18},
                   {"date", 12},
                   {"day", 6},
                   {"where", 10},
                   {"from", 8},
                   {"work", 18},
                   {"lane", 14},
                   {"prescription", 70}},
                  {},
                  true};
  for (const Person& person : programme.people) {
    const std::string name = display_of(programme, person);
    if (person.done)
      sheet.rows.push_back({name, std::string(), std::string(), std::string("tested"), std::string(),
                            std::string(), std::string(), done_words(person)});
    if (!person.refused.empty())
      sheet.rows.push_back({name, std::string(), std::string(), std::string("referred"), std::string(),
                            std::string(), std::string(), printable(person.refused)});
    for (Date date = span.from; date <= span.to; date += Days(1)) {
      const std::string day = short_date(date).substr(0, 3);
      for (const Morning& morning : programme.mornings) {
        if (morning.date != date) continue;
        for (const Visit& visit : visits_of(morning, person.id))
          sheet.rows.push_back({name, date, day, std::string("morning"),
                                minute_text(visit.turns.front()->from), names.work(visit.station->work),
                                printable(visit.station->lane),
                                printable(visit.turns.front()->prescription)});
      }
      for (const Extra& extra : person.extra) {
        if (extra.date == date)
          sheet.rows.push_back({name, date, day, std::string("home"), std::string(),
                                names.work(extra.block.work), std::string(),
                                printable(extra.block.prescription)});
      }
    }
  }
  return sheet;
}

// Columns of the risk list between the chance to pass and the weakest event: the total with its range, or the
// events passed with the result of each.
std::vector<io::SheetColumn> outlook_columns(const Standard& standard) {
  if (!standard.pass_or_fail) return {{"total", 8}, {"8 in 10 from", 13}, {"to", 8}};
  std::vector<io::SheetColumn> columns{{"events passed", 14}};
  for (const Event& event : standard.events) columns.push_back({event.id + " on test day", 18});
  return columns;
}

std::vector<io::SheetCell> outlook_cells(const Person& person, const Names& names) {
  const TotalOutlook& total = person.outlook.total;
  if (!is_planned(person))
    return std::vector<io::SheetCell>(outlook_columns(names.standard).size(), std::string());
  if (!names.standard.pass_or_fail && !has_total(person.outlook.p_on_scale))
    return std::vector<io::SheetCell>(outlook_columns(names.standard).size(), std::string());
  if (!names.standard.pass_or_fail)
    return {std::floor(total.mean + 0.5), std::floor(total.low80 + 0.5), std::floor(total.high80 + 0.5)};
  std::vector<io::SheetCell> cells{total.mean};
  for (const EventOutlook& event : person.outlook.events)
    cells.emplace_back(names.estimate(event.event, event.test_day_result));
  return cells;
}

std::vector<io::SheetCell> risk_row(const Person& person, const Names& names) {
  const bool planned = is_planned(person);
  std::string notes = person.done ? done_words(person) : "";
  if (!person.refused.empty()) notes = "referred: " + printable(person.refused);
  for (const std::string& note : person.notes) notes += (notes.empty() ? "" : "; ") + printable(note);
  if (const std::string note = total_note(person.outlook.p_on_scale);
      planned && !names.standard.pass_or_fail && !note.empty())
    notes += (notes.empty() ? "" : "; ") + note;
  const io::SheetCell none = std::string();
  std::vector<io::SheetCell> row{printable(person.display), printable(person.id), person.group,
                                 planned ? io::SheetCell(1.0 - person.p_fail) : none};
  for (io::SheetCell& cell : outlook_cells(person, names)) row.push_back(std::move(cell));
  const bool weakest = planned && person.weakest;
  const bool cheapest = planned && person.cheapest;
  row.emplace_back(weakest ? names.event(person.weakest->event) : std::string());
  row.push_back(weakest ? io::SheetCell(person.weakest->p_minimum) : none);
  row.emplace_back(cheapest ? names.work(person.cheapest->work) : std::string());
  row.push_back(cheapest ? io::SheetCell(person.cheapest->points_per_hour) : none);
  row.emplace_back(notes);
  return row;
}

io::Sheet risk_sheet(const Programme& programme, const Names& names) {
  const bool marks = has_pass_marks(names.standard);
  const bool pass = names.standard.pass_or_fail;
  std::vector<io::SheetColumn> columns{
      {"who", 18}, {"id", 12}, {"group", 8}, {marks ? "chance to pass" : "chance on all", 15}};
  for (const io::SheetColumn& column : outlook_columns(names.standard)) columns.push_back(column);
  columns.insert(columns.end(), {{"weakest event", 30},
                                 {marks ? "chance of its minimum" : "chance on its scale", 22},
                                 {"one more hour a week of", 24},
                                 {pass ? "adds to a chance" : "brings points", pass ? 17 : 14},
                                 {"notes", 60}});
  io::Sheet sheet{"Risk list", std::move(columns), {}, true};
  for (const Person* person : by_risk(programme)) sheet.rows.push_back(risk_row(*person, names));
  for (const Person& person : programme.people) {
    if (!is_planned(person)) sheet.rows.push_back(risk_row(person, names));
  }
  return sheet;
}

io::Sheet groups_sheet(const Programme& programme, const Names& names) {
  io::Sheet sheet{"Groups", {{"group", 8}, {"people", 8}, {"day", 6}, {"work", 24}, {"size", 8}}, {}, false};
  for (const Group& group : programme.groups) {
    for (std::size_t d = 0; d < group.pattern.days.size(); ++d) {
      for (const PatternBlock& block : group.pattern.days[d])
        sheet.rows.push_back({group.id, static_cast<double>(group.members.size()),
                              std::string(kDayNames.at(d)), names.work(block.work), to_string(block.size)});
    }
  }
  return sheet;
}

// What one person does on a day, a row each.
void add_day_rows(io::Sheet& sheet, const Programme& programme, const Person& person, Date date,
                  const Names& names) {
  const auto week = static_cast<double>(squad_week_of(programme, date));
  const std::string id = printable(person.id);
  const std::string name = printable(person.display);
  for (const Morning& morning : programme.mornings) {
    if (morning.date != date) continue;
    for (const Visit& visit : visits_of(morning, person.id)) {
      const Turn& first = *visit.turns.front();
      sheet.rows.push_back({date, week, std::string("morning"), minute_text(first.from),
                            minute_text(visit.turns.back()->to), id, name, person.group,
                            names.work(visit.station->work), printable(visit.station->lane),
                            printable(visit.station->equipment), load_cell(first), pace_cell(first),
                            printable(first.prescription)});
    }
  }
  for (const Extra& extra : person.extra) {
    if (extra.date != date) continue;
    const std::string none;
    sheet.rows.push_back({date, week, std::string("home"), none, none, id, name, person.group,
                          names.work(extra.block.work), none, none, none, none,
                          printable(extra.block.prescription)});
  }
}

}  // namespace

io::CalendarFile squad_calendar(const Programme& programme, const Names& names, const CalendarWishes& wishes,
                                const std::string& tool_version) {
  io::CalendarFile calendar = calendar_of(
      programme, fmt::format("Common mornings of {}", printable(programme.squad)), wishes, tool_version);
  for (const Morning& morning : programme.mornings) {
    std::string summary;
    std::string description;
    for (const MorningWork& work : works_of(morning)) {
      summary += (summary.empty() ? "" : ", ") + names.work(work.work);
      description += fmt::format("{}: {}\n", names.work(work.work), people_text(work, programme));
    }
    calendar.events.push_back({key_of(programme, "", io::write_date(morning.date)), morning.date,
                               wishes.starts, morning.minutes, summary, description + kNoAdvice, false});
  }
  return completed(std::move(calendar), programme, "", programme.test_date, names);
}

io::CalendarFile person_calendar(const Programme& programme, const Person& person, const Names& names,
                                 const CalendarWishes& wishes, const std::string& tool_version) {
  io::CalendarFile calendar = calendar_of(
      programme, fmt::format("Training of {}", display_of(programme, person)), wishes, tool_version);
  for (const Date date : active_days(programme)) {
    const PersonDay day = person_day(programme, person, date, names);
    if (day.summary.empty()) continue;
    // What is done at home only has no hour.
    const auto starts = day.morning_minutes > 0 ? wishes.starts : std::nullopt;
    const int minutes = day.morning_minutes > 0 ? day.morning_minutes : day.home_minutes;
    calendar.events.push_back({key_of(programme, person.id, io::write_date(date)), date, starts, minutes,
                               day.summary, day.description + kNoAdvice, false});
  }
  return completed(std::move(calendar), programme, person.id, person.test_date, names);
}

io::Sheet squad_sheet(const Programme& programme, const Names& names) {
  io::Sheet sheet{"All mornings",
                  {{"date", 12},
                   {"week", 6},
                   {"where", 10},
                   {"from", 8},
                   {"to", 8},
                   {"id", 12},
                   {"who", 18},
                   {"group", 8},
                   {"work", 16},
                   {"lane", 14},
                   {"equipment", 30},
                   {"load_lb", 9},
                   {"seconds_400_m", 14},
                   {"prescription", 70}},
                  {},
                  true};
  for (const Date date : active_days(programme)) {
    for (const Person& person : programme.people) add_day_rows(sheet, programme, person, date, names);
  }
  return sheet;
}

std::vector<io::Sheet> squad_sheets(const Programme& programme, const Names& names, const DaySpan& span) {
  return {week_sheet(programme, names, span), personal_sheet(programme, names, span),
          risk_sheet(programme, names), groups_sheet(programme, names), squad_sheet(programme, names)};
}

}  // namespace backplan::report

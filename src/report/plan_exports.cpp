#include "report/plan_exports.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/value_text.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

std::string key_of(const Plan& plan, Date date) {
  return fmt::format("{}|{}|{}", plan.candidate, plan.standard, io::write_date(date));
}

bool has_work(const PlannedDay& day) { return !day.blocks.empty() || !day.note.empty(); }

std::string summary_of(const PlannedDay& day, const Names& names) {
  std::string text = printable(day.note);
  for (const Block& block : day.blocks) text += (text.empty() ? "" : ", ") + names.work(block.work);
  return text;
}

std::string description_of(const PlannedDay& day, const Names& names) {
  std::string text;
  for (const Block& block : day.blocks) {
    text +=
        fmt::format("{}, {} min: {}\n", names.work(block.work), block.minutes, printable(block.prescription));
    if (!block.stop.empty()) text += fmt::format("Stop: {}\n", printable(block.stop));
  }
  return text + "No medical advice. Pain stops the work.";
}

int minutes_of(const PlannedDay& day) {
  int minutes = day.session_minutes;
  for (const Block& block : day.blocks) minutes += block.size == BlockSize::home ? block.minutes : 0;
  return minutes;
}

io::CalendarEvent test_event(const Plan& plan, const Names& names) {
  io::CalendarEvent event;
  event.key = fmt::format("{}|{}|test", plan.candidate, plan.standard);
  event.date = plan.test_date;
  event.summary = fmt::format("Test of record: {}", names.standard.title);
  if (!plan.refused.empty()) {
    event.description = "No plan is made: " + printable(plan.refused.front());
    return event;
  }
  const std::string note = total_note(plan.outlook.p_on_scale);
  event.description = fmt::format("Total {}.{}", say_total(plan.outlook.total, plan.outlook.p_on_scale),
                                  note.empty() ? "" : ' ' + note);
  return event;
}

io::Sheet weeks_sheet(const Plan& plan, const Names& names) {
  io::Sheet sheet{"Weeks", {{"week", 6}, {"from", 12}, {"phase", 10}, {"minutes", 9}}, {}, true};
  for (const Event& event : names.standard.events) sheet.columns.push_back({event.id, 10});
  sheet.columns.push_back({"provisional", 12});
  for (const PlannedWeek& week : plan.weeks) {
    std::vector<io::SheetCell> row{static_cast<double>(week.index), week.starts, to_string(week.phase),
                                   static_cast<double>(week.minutes)};
    for (const Event& event : names.standard.events) {
      std::string result;
      for (const Milestone& one : week.milestones) {
        if (one.event == event.id) result = names.estimate(event.id, one.result);
      }
      row.emplace_back(result);
    }
    row.emplace_back(std::string(week.provisional ? "yes" : "no"));
    sheet.rows.push_back(std::move(row));
  }
  return sheet;
}

io::Sheet events_sheet(const Plan& plan, const Names& names) {
  io::Sheet sheet{"Events",
                  {{"event", 34},
                   {"today", 10},
                   {"points today", 13},
                   {"test day", 10},
                   {"points", 8},
                   {"8 in 10 from", 13},
                   {"to", 10},
                   {"chance of its minimum", 22}},
                  {},
                  true};
  const auto points_cell = [](const std::optional<Points>& points) {
    return points ? io::SheetCell(points->value()) : io::SheetCell(std::string());
  };
  for (const EventOutlook& event : plan.outlook.events) {
    const auto text = [&](double result) { return names.estimate(event.event, result); };
    sheet.rows.push_back(
        {names.event(event.event), event.now_result ? text(*event.now_result) : std::string(),
         points_cell(event.now_points), text(event.test_day_result), points_cell(event.test_day_points),
         text(event.test_day_low80), text(event.test_day_high80), event.p_minimum});
  }
  return sheet;
}

}  // namespace

io::CalendarFile plan_calendar(const Plan& plan, const Names& names, const CalendarWishes& wishes,
                               const std::string& tool_version) {
  io::CalendarFile calendar;
  calendar.name = fmt::format("Training of {}", printable(plan.candidate));
  calendar.tool_version = tool_version;
  calendar.revised = plan.as_of;
  calendar.sequence = plan.revision;
  calendar.alarms = wishes.alarms;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (!has_work(day)) continue;
      // What has no length (rest before the test, a test) has no hour either.
      const auto starts = minutes_of(day) > 0 ? wishes.starts : std::nullopt;
      calendar.events.push_back({key_of(plan, day.date), day.date, starts, minutes_of(day),
                                 summary_of(day, names), description_of(day, names), false});
    }
  }
  for (const Date date : plan.withdrawn) {
    calendar.events.push_back(
        {key_of(plan, date), date, std::nullopt, 0, "No training on this day any more", {}, true});
  }
  calendar.events.push_back(test_event(plan, names));
  std::stable_sort(calendar.events.begin(), calendar.events.end(),
                   [](const auto& a, const auto& b) { return a.date < b.date; });
  return calendar;
}

io::Sheet days_sheet(const Plan& plan, const Names& names) {
  io::Sheet sheet{"Days",
                  {{"date", 12},
                   {"week", 6},
                   {"phase", 10},
                   {"work", 16},
                   {"size", 8},
                   {"minutes", 9},
                   {"load_lb", 9},
                   {"prescription", 70},
                   {"why", 40},
                   {"stop", 40},
                   {"provisional", 12}},
                  {},
                  true};
  const std::string none;
  for (const std::string& why : plan.refused)
    sheet.rows.push_back({plan.as_of, none, none, none, none, none, none,
                          "no plan is made: " + printable(why), none, none, none});
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      for (const Block& block : day.blocks) {
        sheet.rows.push_back({day.date, static_cast<double>(week.index), to_string(week.phase),
                              names.work(block.work), to_string(block.size),
                              static_cast<double>(block.minutes),
                              block.load ? io::SheetCell(block.load->value()) : io::SheetCell(std::string()),
                              printable(block.prescription), printable(block.why), printable(block.stop),
                              std::string(week.provisional ? "yes" : "no")});
      }
    }
  }
  return sheet;
}

std::vector<io::Sheet> plan_sheets(const Plan& plan, const Names& names) {
  return {days_sheet(plan, names), weeks_sheet(plan, names), events_sheet(plan, names)};
}

}  // namespace backplan::report

#include "report/plan_exports.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <variant>

#include "io/value_text.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

std::string key_of(const Plan& plan, Date date) {
  return fmt::format("{}|{}|{}", plan.candidate, plan.standard, io::write_date(date));
}

bool has_work(const PlannedDay& day) {
  return !day.blocks.empty() || !day.fixed.empty() || !day.note.empty();
}

bool is_off(const OffByDay& off, const PlannedDay& day, const Block& block) {
  return off_on(off, day.date, block.work) != nullptr;
}

std::string summary_of(const PlannedDay& day, const Names& names, const OffByDay& off) {
  std::string text = printable(day.note);
  const auto add = [&text](const std::string& more) { text += (text.empty() ? "" : ", ") + more; };
  if (!day.fixed.empty()) add(printable(day.fixed) + " (fixed)");
  for (const Block& block : day.blocks)
    add(names.work(block.work) + (is_off(off, day, block) ? " (OFF)" : ""));
  return text;
}

std::string description_of(const PlannedDay& day, const Names& names, const OffByDay& off) {
  std::string text;
  if (!day.fixed.empty()) text += printable(fixed_words(day)) + '\n';
  for (const Block& block : day.blocks) {
    const WorkOff* gone = off_on(off, day.date, block.work);
    text += fmt::format("{}, {} min: {}\n", names.work(block.work), block.minutes,
                        gone != nullptr ? off_words(*gone, names) : printable(block.prescription));
    if (gone == nullptr && !block.stop.empty()) text += fmt::format("Stop: {}\n", printable(block.stop));
  }
  return text + "No medical advice. Pain stops the work.";
}

// Of what is still to be done; fixed work has its own hour. A session that has lost a block keeps its
// preparation, recovery and change-overs.
int minutes_of(const PlannedDay& day, const OffByDay& off) {
  bool any = false;
  int session = day.session_minutes;
  int home = 0;
  for (const Block& block : day.blocks) {
    const bool gone = is_off(off, day, block);
    if (block.size == BlockSize::home) {
      home += gone ? 0 : block.minutes;
    } else {
      any = any || !gone;
      session -= gone ? block.minutes : 0;
    }
  }
  return home + (any ? session : 0);
}

// What a row of the days' sheet holds beside its day.
struct DayRow {
  std::string work, size;
  io::SheetCell minutes = std::string(), load = std::string();
  std::string prescription = {}, why = {}, stop = {};
};

std::vector<DayRow> rows_of(const PlannedDay& day, const Names& names, const OffByDay& off) {
  std::vector<DayRow> rows;
  if (!day.note.empty()) {
    const std::size_t colon = std::min(day.note.find(": "), day.note.size());
    DayRow row{printable(day.note.substr(0, colon)), "note"};
    row.prescription = printable(day.note.substr(std::min(colon + 2, day.note.size())));
    rows.push_back(std::move(row));
  }
  if (!day.fixed.empty()) {
    DayRow row{printable(day.fixed), "fixed", static_cast<double>(day.fixed_minutes)};
    row.prescription = printable(fixed_words(day));
    rows.push_back(std::move(row));
  }
  for (const Block& block : day.blocks) {
    DayRow row{names.work(block.work), to_string(block.size), static_cast<double>(block.minutes)};
    if (const WorkOff* gone = off_on(off, day.date, block.work)) {
      row.prescription = off_words(*gone, names);
    } else {
      if (block.load) row.load = block.load->value();
      row.prescription = printable(block.prescription);
      row.why = printable(block.why);
      row.stop = printable(block.stop);
    }
    rows.push_back(std::move(row));
  }
  return rows;
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
  const char* chance = names.has_pass_mark(plan.category) ? "chance of its minimum" : "chance on its scale";
  io::Sheet sheet{"Events",
                  {{"event", 34},
                   {"today", 10},
                   {"points today", 13},
                   {"test day", 10},
                   {"points", 8},
                   {"8 in 10 from", 13},
                   {"to", 10},
                   {chance, 22}},
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

PlanNews news_of(OffByDay off, const std::vector<Done>& entries) {
  PlanNews news{std::move(off), 0, std::nullopt};
  for (const Done& entry : entries) {
    if (!std::holds_alternative<Pain>(entry.what)) continue;
    ++news.pain_entries;
    if (!news.last_pain || entry.date > *news.last_pain) news.last_pain = entry.date;
  }
  return news;
}

io::CalendarFile plan_calendar(const Plan& plan, const Names& names, const CalendarWishes& wishes,
                               const std::string& tool_version, const PlanNews& news) {
  io::CalendarFile calendar;
  calendar.name = fmt::format("Training of {}", printable(plan.candidate));
  calendar.tool_version = tool_version;
  calendar.revised = std::max(plan.as_of, news.last_pain.value_or(plan.as_of));
  // Neither revisions nor entries ever get fewer, but for an entry that is voided.
  calendar.sequence = plan.revision + news.pain_entries;
  calendar.alarms = wishes.alarms;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (!has_work(day)) continue;
      // What has no length (rest before the test, a test, a day that is off) has no hour either.
      const int minutes = minutes_of(day, news.off);
      const auto starts = minutes > 0 ? wishes.starts : std::nullopt;
      calendar.events.push_back({key_of(plan, day.date), day.date, starts, minutes,
                                 summary_of(day, names, news.off), description_of(day, names, news.off),
                                 false});
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

io::Sheet days_sheet(const Plan& plan, const Names& names, const OffByDay& off) {
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
      for (const DayRow& row : rows_of(day, names, off)) {
        sheet.rows.push_back({day.date, static_cast<double>(week.index), to_string(week.phase), row.work,
                              row.size, row.minutes, row.load, row.prescription, row.why, row.stop,
                              std::string(week.provisional ? "yes" : "no")});
      }
    }
  }
  return sheet;
}

std::vector<io::Sheet> plan_sheets(const Plan& plan, const Names& names, const OffByDay& off) {
  return {days_sheet(plan, names, off), weeks_sheet(plan, names), events_sheet(plan, names)};
}

}  // namespace backplan::report

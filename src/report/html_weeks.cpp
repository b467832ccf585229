// The weeks of a plan: all at a glance, and each one in full.
#include <fmt/format.h>

#include <algorithm>

#include "io/value_text.hpp"
#include "report/html_page.hpp"
#include "report/html_report.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr double kMeterWidth = 100.0, kMeterHeight = 10.0;

std::string blocks_of(const PlannedWeek& week, const Names& names) {
  std::vector<std::pair<std::string, int>> sums;
  for (const PlannedDay& day : week.days) {
    for (const Block& block : day.blocks) {
      const auto found =
          std::find_if(sums.begin(), sums.end(), [&](const auto& sum) { return sum.first == block.work; });
      if (found == sums.end()) {
        sums.emplace_back(block.work, 1);
      } else {
        ++found->second;
      }
    }
  }
  std::string text;
  for (const auto& [work, number] : sums)
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", names.work(work), number);
  return text.empty() ? "no training" : text;
}

Markup block_markup(const Block& block, const Names& names, const WorkOff* off) {
  std::string head = fmt::format("{}, {} min", names.work(block.work), block.minutes);
  if (block.size == BlockSize::home) head += ", at home";
  if (block.rehearsal) head += ", rehearsal";
  if (off != nullptr) {
    std::string why = fmt::format("Off: {}.", off->why);
    for (const std::string& work : off->instead)
      why += fmt::format("{}{}", &work == &off->instead.front() ? " Instead: " : ", ", names.work(work));
    return element(
        "div", {{"class", "block"}},
        {element("p", {},
                 {element("strong", {}, head), ". ", element("span", {{"class", "doubt"}}, foreign(why))})});
  }
  Markup out = element("p", {}, {element("strong", {}, head), ". ", foreign(block.prescription)});
  if (!block.why.empty()) out += element("p", {{"class", "small quiet"}}, {"Why: ", foreign(block.why)});
  if (!block.stop.empty()) out += element("p", {{"class", "small"}}, {"Stop: ", foreign(block.stop)});
  return element("div", {{"class", "block"}}, out);
}

Markup day_markup(const PlannedDay& day, const Names& names, const DayNotes& notes) {
  Markup head = Markup(short_date(day.date));
  if (day.session_minutes > 0) head += fmt::format(": {} of {} min", day.session_minutes, day.slot_minutes);
  if (const auto mark = notes.marks.find(day.date); mark != notes.marks.end())
    head += Markup(" ") + element("span", {{"class", "mark"}}, mark->second);
  Markup out = element("h4", {}, head);
  if (!day.note.empty()) out += element("p", {}, foreign(day.note));
  if (!day.fixed.empty()) out += element("p", {}, foreign(fixed_words(day)));
  for (const Block& block : day.blocks)
    out += block_markup(block, names, off_on(notes.off, day.date, block.work));
  return element("div", {{"class", "day"}}, out);
}

std::string milestones_of(const PlannedWeek& week, const Names& names) {
  std::string text;
  for (const Event& event : names.standard.events) {
    for (const Milestone& one : week.milestones) {
      if (one.event != event.id) continue;
      text +=
          fmt::format("{}{} {}", text.empty() ? "" : ", ", event.id, names.estimate(event.id, one.result));
    }
  }
  return text;
}

}  // namespace

Markup meter(double share) {
  return element("svg",
                 {{"class", "meter"},
                  {"viewBox", fmt::format("0 0 {} {}", kMeterWidth, kMeterHeight)},
                  {"preserveAspectRatio", "none"},
                  {"aria-hidden", "true"}},
                 {element("rect", {{"class", "bar"},
                                   {"width", coordinate(share * kMeterWidth)},
                                   {"height", coordinate(kMeterHeight)}})});
}

Markup week_markup(const PlannedWeek& week, const Names& names, const DayNotes& notes) {
  Markup out = element("h3", {}, fmt::format("Week {}: from {}", week.index, io::say_date(week.starts)));
  std::string about = fmt::format("{}, {} min", to_string(week.phase), week.minutes);
  if (week.days_long < 7) about += fmt::format("; a part of a week: {}", count(week.days_long, "day"));
  if (week.provisional) about += "; provisional: later results set the loads anew";
  out += element("p", {}, about);
  Markup days;
  for (const PlannedDay& day : week.days) days += day_markup(day, names, notes);
  out += week.days.empty() ? element("p", {}, "No training this week.")
                           : element("div", {{"class", "days"}}, days);
  if (const std::string expected = milestones_of(week, names); !expected.empty())
    out += element("p", {{"class", "small"}}, {element("strong", {}, "Expected by its end: "), expected});
  return element("article", {{"class", "week"}}, out);
}

Markup weeks_at_a_glance(const Plan& plan, const Names& names) {
  DataTable table;
  table.caption = "Weeks, counted back from the test, with the results expected at their end";
  table.head = {"week", "from", "phase", "min", "minutes as a bar"};
  table.numeric = {true, false, false, true, false};
  table.unbroken = {false, true};
  for (const Event& event : names.standard.events) {
    table.head.push_back(event.id);
    table.numeric.push_back(true);
  }
  table.head.emplace_back("blocks");
  table.numeric.push_back(false);
  int most = 1;
  for (const PlannedWeek& week : plan.weeks) most = std::max(most, week.minutes);
  for (const PlannedWeek& week : plan.weeks) {
    std::vector<Markup> row{fmt::format("{}", week.index), week_date(plan, week.starts),
                            to_string(week.phase), fmt::format("{}", week.minutes),
                            meter(static_cast<double>(week.minutes) / most)};
    for (const Event& event : names.standard.events) {
      std::string result;
      for (const Milestone& one : week.milestones) {
        if (one.event == event.id) result = names.estimate(event.id, one.result);
      }
      row.emplace_back(result);
    }
    row.emplace_back(blocks_of(week, names));
    table.rows.push_back(std::move(row));
  }
  return html_table(table);
}

}  // namespace backplan::report

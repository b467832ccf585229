// Loads and results over time: what is expected week by week, and what has been shown.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "io/estimate_text.hpp"
#include "report/chart.hpp"
#include "report/html_page.hpp"
#include "report/html_report.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

Markup figure_of(const Picture& picture) {
  return element("figure", {}, {element("figcaption", {}, picture.title), svg_of(picture)});
}

Course course_of(const EventOutlook& event, const ReportInput& input) {
  const Plan& plan = input.plan;
  const Event& known = *input.names.standard.find_event(event.event);
  Course course;
  course.id = "course-" + event.event;
  course.title = input.names.event(event.event);
  course.begins = plan.as_of;
  course.ends = plan.test_date;
  course.less_is_better = known.direction == Direction::less_is_better;
  course.at_end = Interval{event.test_day_low80, event.test_day_high80};
  if (event.now_result) course.expected.emplace_back(plan.as_of, *event.now_result);
  for (const PlannedWeek& week : plan.weeks) {
    const Date ends = week.starts + Days(week.days_long);
    if (ends <= plan.as_of) continue;
    for (const Milestone& one : week.milestones) {
      if (one.event == event.event) course.expected.emplace_back(std::min(ends, plan.test_date), one.result);
    }
  }
  for (const Evidence& one : input.shown) {
    if (one.event == event.event)
      course.shown.push_back({one.date, result_of(one.v, known.direction), one.lower_bound});
  }
  std::stable_sort(course.shown.begin(), course.shown.end(),
                   [](const Shown& a, const Shown& b) { return a.date < b.date; });
  return course;
}

// The heaviest load of each day by kind of work: planned, and really lifted.
struct Loads {
  std::map<Date, double> planned, lifted;
};

std::map<std::string, Loads> loads_of(const ReportInput& input) {
  std::map<std::string, Loads> out;
  const auto note = [](std::map<Date, double>& loads, Date date, double load) {
    double& heaviest = loads[date];
    heaviest = std::max(heaviest, load);
  };
  for (const PlannedWeek& week : input.plan.weeks) {
    for (const PlannedDay& day : week.days) {
      for (const Block& block : day.blocks) {
        if (block.load) note(out[block.work].planned, day.date, block.load->value());
      }
    }
  }
  for (const Done& entry : input.entries) {
    const auto* work = std::get_if<WorkDone>(&entry.what);
    if (work == nullptr) continue;
    for (const LoggedSet& set : work->sets) {
      if (set.load) note(out[work->work].lifted, entry.date, set.load->value.value());
    }
  }
  return out;
}

Markup loads_markup(const ReportInput& input) {
  Markup out;
  for (const auto& [work, loads] : loads_of(input)) {
    Course course;
    course.id = "loads-" + work;
    course.title = fmt::format("Heaviest load of a {}", input.names.work(work));
    course.begins = input.plan.as_of;
    course.ends = input.plan.test_date;
    course.expected.assign(loads.planned.begin(), loads.planned.end());
    for (const auto& [date, load] : loads.lifted) course.shown.push_back({date, load, false});
    out +=
        figure_of(course_picture(course, [](double load) { return io::estimate_text(load, Unit::pound); }));
  }
  return out;
}

Markup shown_table(const ReportInput& input) {
  DataTable table;
  table.caption = "What has been shown so far";
  table.head = {"date", "event", "reads as", "how sure"};
  table.numeric = {false, false, true, false};
  std::vector<Evidence> shown = input.shown;
  std::stable_sort(shown.begin(), shown.end(),
                   [](const Evidence& a, const Evidence& b) { return a.date < b.date; });
  constexpr double kPercent = 100.0;
  for (const Evidence& one : shown) {
    const Event* event = input.names.standard.find_event(one.event);
    if (event == nullptr) continue;
    const std::string result = input.names.estimate(one.event, result_of(one.v, event->direction));
    table.rows.push_back({short_date(one.date), input.names.event(one.event), result,
                          one.lower_bound ? std::string("at least about this")
                                          : fmt::format("give or take {:.0f} %", kPercent * one.sd)});
  }
  return table.rows.empty() ? Markup() : html_table(table);
}

}  // namespace

Markup courses_markup(const ReportInput& input) {
  Markup figures;
  for (const EventOutlook& event : input.plan.outlook.events) {
    if (input.names.standard.find_event(event.event) == nullptr) continue;
    const auto say = [&](double result) { return input.names.estimate(event.event, result); };
    figures += figure_of(course_picture(course_of(event, input), say));
  }
  return element("p", {},
                 "Better is up. The line is what the plan expects, the diamond its end, the bar at the end 8 "
                 "in 10. Dots were shown; a dash with a stalk is a bound: at least this.") +
         element("div", {{"class", "grid"}}, figures + loads_markup(input)) + shown_table(input);
}

}  // namespace backplan::report

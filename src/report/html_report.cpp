#include "report/html_report.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "backplan/outlook.hpp"
#include "io/value_text.hpp"
#include "report/chart.hpp"
#include "report/html_page.hpp"
#include "report/log_text.hpp"
#include "report/plan_text.hpp"
#include "report/words.hpp"
#include "report/yield_text.hpp"

namespace backplan::report {
namespace {

// Lines about doubt or danger, a paragraph each.
Markup lines_markup(const std::string& text) {
  Markup out;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t to = std::min(text.find('\n', from), text.size());
    out += element("p", {{"class", "small doubt"}}, text.substr(from, to - from));
    from = to + 1;
  }
  return out;
}

Markup today_markup(const Outlook& outlook) {
  const std::string note = today_note(outlook);
  return note.empty() ? Markup() : element("p", {{"class", "small"}}, note);
}

Markup ways_out_markup(const Plan& plan, const Names& names) {
  if (!plan.ways_out) return {};
  Markup items;
  for (const std::string& line : ways_out_lines(plan, names)) items += element("li", {}, foreign(line));
  return element("h2", {{"id", "ways"}}, "Ways out") + element("ul", {}, items);
}

// The next day with something to do, today included.
const PlannedDay* next_day(const Plan& plan, Date today) {
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.date >= today && (!day.blocks.empty() || !day.fixed.empty() || !day.note.empty())) return &day;
    }
  }
  return nullptr;
}

Markup next_markup(const ReportInput& input) {
  const PlannedDay* day = next_day(input.plan, input.today);
  if (day == nullptr) return {};
  std::string what = day->note;
  if (!day->fixed.empty()) what += (what.empty() ? "" : ", ") + fixed_words(*day);
  for (const Block& block : day->blocks) {
    const WorkOff* off = off_on(input.notes.off, day->date, block.work);
    what += fmt::format("{}{} {} min{}", what.empty() ? "" : ", ", input.names.work(block.work),
                        block.minutes, off != nullptr ? fmt::format(" (off: {})", off->why) : "");
  }
  return element(
      "p", {{"class", "lead"}},
      {element("strong", {}, "Next: "), fmt::format("{}: ", short_date(day->date)), foreign(what)});
}

Markup stops_markup(const ReportInput& input) {
  if (input.stops.empty()) return {};
  std::vector<std::string> notices = stop_notices(input.stops, input.names);
  if (const auto off = input.notes.off.find(input.today); off != input.notes.off.end()) {
    for (std::string& one : instead_notices(off->second, input.names)) notices.push_back(std::move(one));
  }
  Markup out;
  for (const std::string& one : notices) out += element("p", {{"class", "small doubt"}}, foreign(one));
  return out;
}

std::string total_words(const Plan& plan, const Names& names) {
  const Outlook& with = plan.outlook;
  const Outlook& without = plan.without_training;
  if (names.standard.pass_or_fail)
    return fmt::format("Events passed on test day: about {:.1f} of {}; at today's levels about {:.1f}.",
                       with.total.mean, names.standard.events.size(), without.total.mean);
  const std::string note = total_note(with.p_on_scale, "at today's levels", without.p_on_scale);
  return fmt::format("Total on test day: {}; at today's levels {}.{}", say_total(with.total, with.p_on_scale),
                     say_mean_total(without.total, without.p_on_scale), note.empty() ? "" : ' ' + note);
}

Markup answer_markup(const ReportInput& input) {
  const Plan& plan = input.plan;
  const Outlook& outlook = plan.outlook;
  Markup out;
  if (!plan.refused.empty()) {
    out += element("p", {{"class", "verdict"}}, "No plan is made") + list_markup(plan.refused);
  } else {
    out +=
        element("p", {{"class", "verdict"}}, plan.enough ? "Yes, it will be enough" : "No, not by this date");
    out += element("p", {{"class", "lead"}},
                   fmt::format("The target ({}): {}; {} asked.", target_text(plan.target, input.names),
                               say_chance(outlook.p_target), say_chance(plan.target.confidence)));
    const std::string passing = fmt::format("Passing the test: {}; {} asked. ", say_chance(outlook.p_pass),
                                            say_chance(plan.target.pass_confidence));
    out +=
        paragraph((input.names.has_pass_mark(plan.category) ? passing : "") + total_words(plan, input.names));
  }
  out += stops_markup(input) + next_markup(input);
  return element("div", {{"class", plan.enough ? "answer" : "answer no"}}, out) +
         ways_out_markup(plan, input.names);
}

Markup events_table(const ReportInput& input, Marks& marks) {
  DataTable table;
  table.caption = "What each event must bring";
  const char* points = input.names.standard.pass_or_fail ? "passed" : "points";
  table.head = {"event",
                "today",
                points,
                "test day",
                points,
                "8 in 10 between",
                input.names.minimum_words(input.plan.category)};
  table.numeric = {false, true, true, true, true, false, false};
  for (const EventOutlook& event : input.plan.outlook.events) {
    const auto text = [&](double result) { return input.names.estimate(event.event, result); };
    table.rows.push_back(
        {input.names.event(event.event),
         event.now_result ? marks.guess(text(*event.now_result), event.measured) : marks.guess("none", false),
         event.now_result ? marks.points(event.now_points, event.now_origin) : std::string("-"),
         text(event.test_day_result), marks.points(event.test_day_points, event.test_day_origin),
         fmt::format("{} and {}", text(event.test_day_low80), text(event.test_day_high80)),
         say_chance(event.p_minimum)});
  }
  return html_table(table);
}

// A scale of one row is no ladder: there is its pass mark, and the chance of it stands in the table.
Markup points_section(const ReportInput& input) {
  const Standard& standard = input.names.standard;
  const Category* category = standard.find_category(input.plan.category);
  Marks marks(standard.pass_or_fail);
  if (standard.pass_or_fail) {
    const Markup table = events_table(input, marks);
    return table + lines_markup(marks.legend()) + today_markup(input.plan.outlook);
  }
  Markup ladders;
  for (const EventOutlook& outlook : input.plan.outlook.events) {
    const Event* event = standard.find_event(outlook.event);
    if (event == nullptr || category == nullptr) continue;
    const Scale* scale = standard.scale_for(*event, input.candidate.column, input.plan.age, *category);
    if (scale == nullptr || scale->rows().size() < 2) continue;
    LadderAsk ask{pass_minimum(*category, *event), input.plan.target.asked_of(outlook.event)};
    if (ask.target == ask.minimum) ask.target.reset();
    for (const Row& row : scale->rows()) {
      if (row.points.tenths() % 100 == 0) marks.note(row.origin);
    }
    const Picture picture = ladder(outlook, *scale, ask, input.names);
    ladders +=
        element("figure", {}, {element("figcaption", {}, input.names.event(outlook.event)), svg_of(picture)});
  }
  const Markup table = events_table(input, marks);
  const Markup legend = lines_markup(marks.legend());
  return paragraph(
             "The official scale of each event: points on the left, the result that earns them on the right. "
             "The ring is today, the diamond the forecast of test day, the bar 8 in 10. The dotted line is "
             "the minimum, the dashed line what the target asks.") +
         element("div", {{"class", "grid"}}, ladders) + table + legend + today_markup(input.plan.outlook);
}

Markup total_section(const Plan& plan, const Names& names) {
  if (names.standard.pass_or_fail) return paragraph(total_words(plan, names));
  if (plan.outlook.total.bins.empty()) return paragraph(total_words(plan, names));
  DataTable table;
  table.caption = "How likely each total is";
  table.head = {"total", "chance", "this or more"};
  table.numeric = {true, true, true};
  double above = 1.0;
  constexpr double kPercent = 100.0;
  for (const TotalBin& bin : plan.outlook.total.bins) {
    table.rows.push_back({fmt::format("{} to {}", say_points(bin.from), say_points(bin.to)),
                          fmt::format("{:.1f} %", kPercent * bin.p),
                          fmt::format("{:.1f} %", kPercent * std::clamp(above, 0.0, 1.0))});
    above -= bin.p;
  }
  const Markup figure =
      element("figure", {}, {element("figcaption", {}, "The total on test day"), svg_of(total_spread(plan))});
  return element("div", {{"class", "grid two"}}, {figure, html_table(table)});
}

Markup yield_section(const ReportInput& input) {
  DataTable table;
  const bool pass = input.names.standard.pass_or_fail;
  const int decimals = pass ? 2 : 1;
  table.caption = pass ? "Events passed on test day that one more hour brings"
                       : "Points on test day that one more hour brings";
  table.head = {"one more hour of", "this week", "every week left", "where it pays"};
  table.numeric = {false, true, true, false};
  for (const YieldRow& row : input.plan.yield) {
    table.rows.push_back({input.names.work(row.work), fmt::format("{:.{}f}", row.now_total, decimals),
                          fmt::format("{:.{}f}", row.weeks_left_total, decimals), foreign(row.why)});
  }
  return html_table(table) + paragraph(yield_basis());
}

Markup given_up_markup(const ReportInput& input) {
  if (input.plan.given_up.empty()) return {};
  Markup items;
  for (const GivenUp& one : input.plan.given_up) {
    items += element("li", {}, {given_up_name(one, input.names) + ": ", foreign(one.why)});
  }
  return element("h3", {}, "Given up") + element("ul", {}, items);
}

// A page breaks its lines by itself.
std::string in_one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text.substr(0, text.find_last_not_of(' ') + 1);
}

Markup glance_section(const ReportInput& input) {
  const Plan& plan = input.plan;
  if (!has_blocks(plan)) return weeks_at_a_glance(plan, input.names) + given_up_markup(input);
  std::string text =
      fmt::format("{} min in a usual week, of {} there are.", plan.minutes_per_week, plan.minutes_available);
  if (plan.least_minutes_for_target)
    text += fmt::format(" The target needs at least {}.", *plan.least_minutes_for_target);
  return paragraph(text + ' ' + in_one_line(optimality_text(plan.optimality))) +
         weeks_at_a_glance(plan, input.names) + given_up_markup(input);
}

Markup weeks_section(const ReportInput& input) {
  Markup out;
  for (const PlannedWeek& week : input.plan.weeks) out += week_markup(week, input.names, input.notes);
  return out;
}

Markup closing_of(const Plan& plan) {
  return paragraph(fmt::format("Made for {} as of {}. No data of this page has left it.", plan.candidate,
                               io::say_date(plan.as_of))) +
         paragraph("No medical advice: the official manual, your unit and licensed staff come first.");
}

std::string title_of(const ReportInput& input) {
  return fmt::format("{}: {}, {}; test on {}, {}", input.plan.candidate, input.names.standard.title,
                     input.names.category(input.plan.category), io::say_date(input.plan.test_date),
                     weeks_until(input.plan.as_of, input.plan.test_date));
}

}  // namespace

Markup list_markup(const std::vector<std::string>& items) {
  Markup out;
  for (const std::string& item : items) out += element("li", {}, foreign(item));
  return element("ul", {}, out);
}

Markup assumptions_markup(const std::vector<Assumption>& assumptions) {
  DataTable table;
  table.caption = "Every default that was used";
  table.head = {"what", "value", "status", "source"};
  table.numeric = {false, false, false, false};
  table.unbroken = {false, false, true};
  for (const Assumption& one : assumptions)
    table.rows.push_back({one.name, foreign(one.value), to_string(one.status), foreign(one.source)});
  return html_table(table);
}

std::string html_report(const ReportInput& input) {
  const Plan& plan = input.plan;
  Page page;
  page.title = title_of(input);
  page.opening = answer_markup(input);
  if (!plan.refused.empty()) {
    if (!plan.weeks.empty())
      page.sections.push_back({"weeks", "The weeks that are over", weeks_section(input)});
  } else {
    const bool pass = input.names.standard.pass_or_fail;
    page.sections.push_back({"points", pass ? "What each event must bring" : "Where the points come from",
                             points_section(input)});
    page.sections.push_back(
        {"total", pass ? "Events passed" : "The total", total_section(plan, input.names)});
    if (!plan.yield.empty())
      page.sections.push_back({"yield",
                               pass ? "What one more hour brings" : "Where the next points are cheapest",
                               yield_section(input)});
    if (!plan.weeks.empty()) {
      page.sections.push_back({"glance", "The weeks at a glance", glance_section(input)});
      page.sections.push_back({"weeks", "Each week", weeks_section(input)});
      page.sections.push_back({"course", "Loads and results over time", courses_markup(input)});
    }
  }
  page.sections.push_back({"cautions", "Cautions", list_markup(plan.cautions)});
  if (!plan.assumptions.empty())
    page.sections.push_back(
        {"assumptions", "What this rests on", assumptions_markup(plan.assumptions), false});
  page.closing = closing_of(plan);
  return html_page(page);
}

std::string html_week(const ReportInput& input, const PlannedWeek& week) {
  Page page;
  page.title = title_of(input);
  page.alone = true;
  if (!input.plan.refused.empty()) page.opening = answer_markup(input);
  page.sections.push_back({"week", fmt::format("Week {} before the test", week.index),
                           week_markup(week, input.names, input.notes)});
  page.closing = list_markup(input.plan.cautions);
  return html_page(page);
}

}  // namespace backplan::report

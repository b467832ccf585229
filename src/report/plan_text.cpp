#include "report/plan_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "backplan/planner.hpp"
#include "io/value_text.hpp"
#include "report/show_text.hpp"
#include "report/table.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

std::string answer_text(const Plan& plan, const Names& names) {
  const Outlook& outlook = plan.outlook;
  std::string text = "Will it be enough?\n";
  text += wrap(fmt::format("{} The target ({}): {}; {} asked.",
                           plan.enough ? "Yes." : "No, not by this date.", target_text(plan.target, names),
                           say_chance(outlook.p_target), say_chance(plan.target.confidence)),
               kPageWidth, "  ", "  ");
  if (names.has_pass_mark(plan.category))
    text += fmt::format("  Passing the test: {}; {} asked.\n", say_chance(outlook.p_pass),
                        say_chance(plan.target.pass_confidence));
  if (names.standard.pass_or_fail) {
    return text +
           fmt::format("  Events passed on test day: about {:.1f} of {}; at today's levels about {:.1f}.\n",
                       outlook.total.mean, names.standard.events.size(), plan.without_training.total.mean);
  }
  const Outlook& without = plan.without_training;
  text += fmt::format("  Total on test day: {}; at today's levels {}.\n",
                      say_total(outlook.total, outlook.p_on_scale),
                      say_mean_total(without.total, without.p_on_scale));
  const std::string note = total_note(outlook.p_on_scale, "at today's levels", without.p_on_scale);
  return note.empty() ? text : text + wrap(note, kPageWidth, "  ", "  ");
}

bool none_found(const WaysOut& ways) {
  return !ways.total_within_reach && !ways.earliest_date && !ways.minutes_per_week &&
         ways.best_change.empty();
}

std::string date_line(const WaysOut& ways) {
  if (ways.earliest_date)
    return fmt::format("Earliest date for the target: {}.", io::say_date(*ways.earliest_date));
  if (ways.last_date_tried)
    return fmt::format("No later date would do: dates to {} were tried.",
                       io::say_date(*ways.last_date_tried));
  return "No later date was found that would do.";
}

std::string minutes_line(const WaysOut& ways) {
  if (ways.minutes_per_week)
    return fmt::format("Minutes that would do by this date: {} a week.", *ways.minutes_per_week);
  if (ways.most_minutes_tried)
    return fmt::format("No more minutes on these days would do: up to {} a week were tried.",
                       *ways.most_minutes_tried);
  return fmt::format(
      "More minutes on these days were not tried: no day has any, or each has {} minutes or more.",
      kMostMinutesADay);
}

std::string change_line(const WaysOut& ways) {
  if (!ways.best_change.empty())
    return fmt::format("The one change that helps most: {}; the target then: {}.", ways.best_change,
                       say_chance(ways.best_change_p_target));
  if (ways.tried.empty()) return "No single change was found that helps.";
  return fmt::format("No single change that was tried helps: {}.", fmt::join(ways.tried, ", "));
}

std::string ways_out_text(const Plan& plan, const Names& names) {
  if (!plan.ways_out) return {};
  std::string text = "\nWays out\n";
  for (const std::string& line : ways_out_lines(plan, names))
    text += wrap(printable(line), kPageWidth, "    ", "  - ");
  return text;
}

std::string events_text(const Plan& plan, const Names& names, Marks& marks) {
  Table table(
      {Align::left, Align::right, Align::right, Align::right, Align::right, Align::left, Align::left});
  const char* points = names.standard.pass_or_fail ? "passed " : "points ";
  table.add(
      {"event", "today ", points, "test day", points, "8 in 10 between", names.minimum_words(plan.category)});
  for (const EventOutlook& event : plan.outlook.events) {
    const auto text = [&](double result) { return names.estimate(event.event, result); };
    table.add(
        {names.event(event.event),
         event.now_result ? marks.guess(text(*event.now_result), event.measured) : marks.guess("none", false),
         event.now_result ? marks.points(event.now_points, event.now_origin) : "- ",
         text(event.test_day_result), marks.points(event.test_day_points, event.test_day_origin),
         fmt::format("{} and {}", text(event.test_day_low80), text(event.test_day_high80)),
         say_chance(event.p_minimum)});
  }
  return "\nWhat each event must bring\n" + table.text("  ");
}

struct WorkSum {
  std::string work;
  int blocks = 0;
  int minutes = 0;
};

// Blocks and minutes by work kind, most minutes first.
std::vector<WorkSum> sums_of(const std::vector<PlannedWeek>& weeks) {
  std::map<std::string, WorkSum> by_work;
  for (const PlannedWeek& week : weeks) {
    for (const PlannedDay& day : week.days) {
      for (const Block& block : day.blocks) {
        WorkSum& sum = by_work[block.work];
        sum.work = block.work;
        ++sum.blocks;
        sum.minutes += block.minutes;
      }
    }
  }
  std::vector<WorkSum> sums;
  for (const auto& entry : by_work) sums.push_back(entry.second);
  std::stable_sort(sums.begin(), sums.end(),
                   [](const WorkSum& a, const WorkSum& b) { return a.minutes > b.minutes; });
  return sums;
}

std::string minutes_text(const Plan& plan, const Names& names) {
  std::string text = fmt::format("\nThe minutes it takes: {} in a usual week, of {} there are.",
                                 plan.minutes_per_week, plan.minutes_available);
  if (plan.least_minutes_for_target) {
    text += fmt::format(" The target needs at least {}.", *plan.least_minutes_for_target);
  }
  text += '\n';
  const std::vector<WorkSum> sums = sums_of(plan.weeks);
  int all = 0;
  for (const WorkSum& sum : sums) all += sum.minutes;
  Table table({Align::left, Align::right, Align::right, Align::right});
  table.add({"where they go", "blocks", "minutes", "share"});
  for (const WorkSum& sum : sums) {
    table.add({names.work(sum.work), fmt::format("{}", sum.blocks), fmt::format("{}", sum.minutes),
               fmt::format("{} %", (200 * sum.minutes + all) / (2 * all))});
  }
  return text + table.text("  ");
}

// Pieces joined by commas as far as `width` goes; "..." stands for those that do not fit.
std::string fitting(const std::vector<std::string>& pieces, std::size_t width) {
  constexpr std::string_view kMore = ", ...";
  std::string text;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const std::string longer = text.empty() ? pieces[i] : text + ", " + pieces[i];
    const std::size_t reserve = i + 1 < pieces.size() ? kMore.size() : 0;
    if (!text.empty() && width_of(longer) + reserve > width) return text + std::string(kMore);
    text = longer;
  }
  return text;
}

// The result of an event at the end of a week; "" where there is none.
std::string milestone_of(const PlannedWeek& week, const std::string& event, const Names& names) {
  for (const Milestone& one : week.milestones) {
    if (one.event == event) return names.estimate(event, one.result);
  }
  return {};
}

// Events side by side in one table of the weeks, and the columns that are left for their blocks.
struct WeeksTable {
  std::vector<std::string> events;
  std::size_t for_work = 0;  // 0: none are told
};

constexpr std::size_t kLeastForWork = 20;  // of the columns for blocks: fewer would name none of them

// Columns that the milestones of an event take in the table of the weeks, with their gap.
std::size_t milestone_columns(const Plan& plan, const std::string& event, const Names& names) {
  std::size_t widest = width_of(event);
  for (const PlannedWeek& week : plan.weeks)
    widest = std::max(widest, width_of(milestone_of(week, event, names)));
  return widest + 2;
}

// The events in as many tables of equal numbers as the width of the page asks for.
std::vector<WeeksTable> tables_of(const Plan& plan, const Names& names) {
  constexpr std::size_t kFixedColumns = 32;  // week, from, phase and minutes with their gaps
  const std::size_t year = width_of(week_date(plan, plan.as_of)) - width_of(short_date(plan.as_of));
  const auto& events = names.standard.events;
  std::vector<WeeksTable> tables;
  for (std::size_t number = 1; number <= std::max<std::size_t>(events.size(), 1); ++number) {
    const std::size_t each = (events.size() + number - 1) / number;
    bool fits = true;
    tables.assign(1, WeeksTable{{}, kPageWidth - kFixedColumns - year});
    for (const Event& event : events) {
      if (tables.back().events.size() == each)
        tables.push_back(WeeksTable{{}, kPageWidth - kFixedColumns - year});
      const std::size_t columns = milestone_columns(plan, event.id, names);
      fits = fits && columns <= tables.back().for_work;
      tables.back().for_work -= std::min(columns, tables.back().for_work);
      tables.back().events.push_back(event.id);
    }
    if (fits) break;
  }
  for (WeeksTable& table : tables) {
    // Blocks are told once, where they fit.
    if (&table != &tables.back() || table.for_work < kLeastForWork) table.for_work = 0;
  }
  return tables;
}

std::string week_blocks(const PlannedWeek& week, std::size_t width, const Names& names) {
  std::vector<std::string> blocks;
  for (const WorkSum& sum : sums_of({week}))
    blocks.push_back(fmt::format("{} {}", names.work(sum.work), sum.blocks));
  return blocks.empty() ? "-" : fitting(blocks, width);
}

std::string weeks_table(const Plan& plan, const WeeksTable& wanted, const Names& names) {
  std::vector<Align> columns{Align::right, Align::left, Align::left, Align::right};
  std::vector<std::string> head{"week", "from", "phase", "min"};
  for (const std::string& event : wanted.events) {
    columns.push_back(Align::right);
    head.push_back(event);
  }
  const bool with_work = wanted.for_work > 0;
  if (with_work) {
    columns.push_back(Align::left);
    head.emplace_back("main work");
  }
  Table table(columns);
  table.add(head);
  for (const PlannedWeek& week : plan.weeks) {
    std::vector<std::string> cells{fmt::format("{}", week.index), week_date(plan, week.starts),
                                   to_string(week.phase), fmt::format("{}", week.minutes)};
    for (const std::string& event : wanted.events) cells.push_back(milestone_of(week, event, names));
    if (with_work) cells.push_back(week_blocks(week, wanted.for_work, names));
    table.add(cells);
  }
  return table.text("");
}

std::string provisional_text(const Plan& plan) {
  for (const PlannedWeek& week : plan.weeks) {
    if (!week.provisional) continue;
    return fmt::format("  From {} on loads and results are provisional: later results set them anew.\n",
                       week_date(plan, week.starts));
  }
  return {};
}

std::string notes_text(const Plan& plan, const Names& names) {
  std::string text;
  const auto heading = [&text](const char* words) { text += fmt::format("\n{}\n", words); };
  if (!plan.given_up.empty()) {
    heading("Given up");
    for (const GivenUp& one : plan.given_up) {
      text += wrap(fmt::format("{}: {}", given_up_name(one, names), printable(one.why)), kPageWidth, "    ",
                   "  - ");
    }
  }
  if (!plan.cautions.empty()) text += '\n' + cautions_text(plan);
  if (!plan.assumptions.empty()) {
    text +=
        fmt::format("\nThis plan rests on {}: `backplan show --assumptions` lists them with their sources.\n",
                    count(static_cast<int>(plan.assumptions.size()), "assumption"));
  }
  return text;
}

// Minutes, proof and weeks; where there are no weeks there is nothing to be proud of.
std::string training_text(const Plan& plan, const Names& names) {
  if (plan.weeks.empty()) return "\nNo training is planned: there is no day left before the test.\n";
  const bool any = has_blocks(plan);
  const bool with_work = tables_of(plan, names).back().for_work > 0;
  return (any ? minutes_text(plan, names) + optimality_text(plan.optimality) : std::string()) +
         "\nThe weeks, counted back from the test: minutes, results expected at the end" +
         (any && with_work ? ", blocks\n" : "\n") + weeks_text(plan, names) + provisional_text(plan) + '\n' +
         week_text(plan.weeks.front(), names);
}

}  // namespace

std::vector<std::string> ways_out_lines(const Plan& plan, const Names& names) {
  std::vector<std::string> lines;
  if (!plan.ways_out) return lines;
  const WaysOut& ways = *plan.ways_out;
  const std::string asked = say_chance(plan.target.confidence);
  if (ways.total_within_reach) {
    const std::string reach = say_points(*ways.total_within_reach);
    lines.push_back(fmt::format("Within reach by this date, {}: {}.", asked,
                                names.standard.pass_or_fail
                                    ? fmt::format("{} of {} events", reach, names.standard.events.size())
                                    : "a total of " + reach));
  } else {
    lines.push_back(fmt::format("Within reach by this date, {}: {}.", asked,
                                names.standard.pass_or_fail ? "no pass" : "no total with every minimum"));
  }
  lines.push_back(date_line(ways));
  lines.push_back(minutes_line(ways));
  lines.push_back(change_line(ways));
  const auto& events = plan.outlook.events;
  const bool guessed =
      std::any_of(events.begin(), events.end(), [](const EventOutlook& event) { return !event.measured; });
  if (none_found(ways))
    lines.emplace_back(guessed ? "Measure what was never measured, or ask for less." : "Ask for less.");
  return lines;
}

bool has_blocks(const Plan& plan) {
  return std::any_of(plan.weeks.begin(), plan.weeks.end(), [](const PlannedWeek& week) {
    return std::any_of(week.days.begin(), week.days.end(),
                       [](const PlannedDay& day) { return !day.blocks.empty(); });
  });
}

std::string given_up_name(const GivenUp& one, const Names& names) {
  // Where nothing that trains it can be done there is no work to name.
  const std::string event = names.event(one.event);
  return one.work.empty() ? event : fmt::format("{}, {}", event, names.work(one.work));
}

std::string over_all(const Standard& standard) {
  return standard.total == TotalKind::mean ? " on average" : " in all";
}

std::string target_text(const Target& target, const Names& names) {
  std::vector<std::string> parts;
  if (names.standard.pass_or_fail) {
    if (target.total)
      parts.push_back(
          fmt::format("{} of {} events passed", to_string(*target.total), names.standard.events.size()));
    if (target.each) parts.emplace_back("every event passed");
    for (const auto& [event, points] : target.events)
      parts.push_back(names.event(event) + (points > Points() ? " passed" : " done"));
    return parts.empty() ? "a pass" : fmt::format("{}", fmt::join(parts, ", "));
  }
  if (target.total) parts.push_back(to_string(*target.total) + over_all(names.standard));
  if (target.each) parts.push_back(to_string(*target.each) + " in each event");
  for (const auto& [event, points] : target.events) {
    parts.push_back(fmt::format("{} in {}", to_string(points), names.event(event)));
  }
  return parts.empty() ? "a pass" : fmt::format("{}", fmt::join(parts, ", "));
}

std::string optimality_text(const Optimality& optimality) {
  if (!optimality.bound) return {};
  // Up to the next hundredth: what is printed must hold.
  constexpr double kPrintedParts = 100.0;
  const double gap =
      std::ceil(std::max(0.01, *optimality.bound - optimality.value) * kPrintedParts - 1e-6) / kPrintedParts;
  return fmt::format(
      "The plan is proven to be within {:.2f} points of the best under these rules: it is worth {:.2f},\n"
      "and no plan of these minutes and deload weeks can be worth more than {:.2f}.\n",
      gap, optimality.value, std::max(optimality.value, *optimality.bound));
}

std::string weeks_text(const Plan& plan, const Names& names) {
  std::string text;
  for (const WeeksTable& wanted : tables_of(plan, names))
    text += (text.empty() ? "" : "\n") + weeks_table(plan, wanted, names);
  return text;
}

std::string plan_text(const Plan& plan, const Names& names) {
  Marks marks(names.standard.pass_or_fail);
  std::string text = fmt::format("{}: {}, {}; test on {}, {}\n\n", printable(plan.candidate),
                                 names.standard.id, names.category(plan.category),
                                 io::say_date(plan.test_date), weeks_until(plan.as_of, plan.test_date));
  if (!plan.refused.empty()) return text + refused_text(plan) + '\n' + cautions_text(plan);
  text += answer_text(plan, names) + ways_out_text(plan, names);
  text += events_text(plan, names, marks);
  text += marks.legend();
  if (const std::string note = today_note(plan.outlook); !note.empty())
    text += wrap(note, kPageWidth, "  ", "  ");
  return text + training_text(plan, names) + notes_text(plan, names);
}

}  // namespace backplan::report

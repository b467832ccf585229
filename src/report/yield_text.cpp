#include "report/yield_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/table.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr double kShown = 0.05;  // points an hour below this print as nothing

double in_event(const std::map<std::string, double>& events, const std::string& event) {
  const auto found = events.find(event);
  return found == events.end() ? 0.0 : found->second;
}

// Of a pass-or-fail test the figures are parts of one event, so they are shown to a hundredth.
std::string per_hour(double points, const Names& names) {
  constexpr double kHundredth = 0.1;  // of a tenth
  if (names.standard.pass_or_fail) return points < kHundredth * kShown ? "-" : fmt::format("{:.2f}", points);
  return points < kShown ? "-" : fmt::format("{:.1f}", points);
}

std::string work_table(const YieldReport& yield, const Names& names) {
  std::vector<Align> columns{Align::left, Align::right, Align::right};
  std::vector<std::string> head{"one more hour of", "this week", "every week left"};
  for (const Event& event : names.standard.events) {
    columns.push_back(Align::right);
    head.push_back(event.id);
  }
  Table table(columns);
  table.add(head);
  for (const YieldRow& row : yield.rows) {
    std::vector<std::string> cells{names.work(row.work), per_hour(row.now_total, names),
                                   per_hour(row.weeks_left_total, names)};
    for (const Event& event : names.standard.events) {
      cells.push_back(per_hour(in_event(row.weeks_left, event.id), names));
    }
    table.add(cells);
  }
  return table.text("  ");
}

// Of what may be done now.
const YieldRow* best_for(const YieldReport& yield, const std::string& event) {
  const YieldRow* best = nullptr;
  for (const YieldRow& row : yield.rows) {
    const bool better =
        best == nullptr || in_event(row.weeks_left, event) > in_event(best->weeks_left, event);
    if (row.possible && better) best = &row;
  }
  return best;
}

std::string cheapest_words(const YieldRow* best, double points, const Names& names) {
  if (best == nullptr) return "no training is possible now";
  if (per_hour(points, names) == "-") return "none left by training";
  return fmt::format("{}, {} an hour", names.work(best->work), per_hour(points, names));
}

std::string event_table(const YieldReport& yield, const Names& names, Marks& marks) {
  Table table({Align::left, Align::right, Align::right, Align::left});
  const bool pass = names.standard.pass_or_fail;
  table.add({"event", "today ", pass ? "passed " : "points ", pass ? "cheapest way" : "cheapest points"});
  for (const EventOutlook& event : yield.now.events) {
    const YieldRow* best = best_for(yield, event.event);
    const double points = best == nullptr ? 0.0 : in_event(best->weeks_left, event.event);
    const std::string today = event.now_result ? names.estimate(event.event, *event.now_result) : "none";
    table.add({names.event(event.event), marks.guess(today, event.measured),
               event.now_result ? marks.points(event.now_points, event.now_origin) : "- ",
               cheapest_words(best, points, names)});
  }
  return table.text("  ");
}

}  // namespace

std::string yield_basis() {
  return fmt::format("Told for an hour, by what {} minutes more a week of each kind bring.", kMinutesStep);
}

std::string yield_text(const YieldReport& yield, const Candidate& candidate, Date as_of, const Names& names) {
  if (!yield.refused.empty())
    return wrap(fmt::format("{}: no advice: {}", printable(candidate.id), yield.refused), kPageWidth, "  ",
                "");
  const bool pass = names.standard.pass_or_fail;
  Marks marks(pass);
  std::string text = fmt::format("{}: {} that one more hour brings, {} ({})\n\n", printable(candidate.id),
                                 pass ? "events passed on test day" : "points on test day", names.standard.id,
                                 "test " + weeks_until(as_of, candidate.test_date));
  text += work_table(yield, names);
  text +=
      fmt::format("\n{}\nThe event columns part \"every week left\". Best first; \"-\" is less than {}.\n\n",
                  yield_basis(), pass ? "a hundredth of an event" : "a tenth of a point");
  for (const YieldRow& row : yield.rows) {
    if (row.why.empty()) continue;
    text += wrap(fmt::format("{}: {}", names.work(row.work), row.why), kPageWidth, "    ", "  ");
  }
  text += "\nBy event\n" + event_table(yield, names, marks);
  const std::string legend = marks.legend();
  if (!legend.empty()) text += '\n' + legend;
  const std::string note = today_note(yield.now);
  return note.empty() ? text : text + wrap(note, kPageWidth, "  ", "  ");
}

}  // namespace backplan::report

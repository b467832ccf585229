#include "report/show_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <string_view>

#include "io/value_text.hpp"
#include "report/log_text.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

std::string block_text(const Block& block, const Names& names) {
  std::string head = fmt::format("{}, {} min", names.work(block.work), block.minutes);
  if (block.size == BlockSize::home) head += ", at home";
  if (block.rehearsal) head += ", timed rehearsal";
  std::string text =
      wrap(fmt::format("{}: {}", head, printable(block.prescription)), kPageWidth, "      ", "    ");
  if (!block.why.empty()) text += wrap("Why: " + printable(block.why), kPageWidth, "      ", "      ");
  if (!block.stop.empty()) text += wrap("Stop: " + printable(block.stop), kPageWidth, "      ", "      ");
  return text;
}

std::string planned_day_text(const PlannedDay& day, const Names& names, const DayMarks& marks) {
  std::string head = short_date(day.date);
  if (day.session_minutes > 0) {
    head += fmt::format(": {} min of the {} there are, with preparation and recovery", day.session_minutes,
                        day.slot_minutes);
  }
  if (const auto mark = marks.find(day.date); mark != marks.end()) head += " [" + mark->second + "]";
  std::string text = "  " + head + '\n';
  if (!day.note.empty()) text += wrap(printable(day.note), kPageWidth, "    ", "    ");
  if (!day.fixed.empty()) {
    text += wrap(fmt::format("{}, {} min (fixed)", printable(day.fixed), day.fixed_minutes), kPageWidth,
                 "    ", "    ");
  }
  for (const Block& block : day.blocks) text += block_text(block, names);
  return text;
}

std::string milestones_text(const PlannedWeek& week, const Names& names) {
  std::vector<Milestone> milestones = week.milestones;
  std::sort(milestones.begin(), milestones.end(), [&names](const Milestone& a, const Milestone& b) {
    return names.place(a.event) < names.place(b.event);
  });
  std::string text;
  for (const Milestone& milestone : milestones) {
    text += (text.empty() ? "" : ", ") + milestone.event + ' ' +
            names.estimate(milestone.event, milestone.result);
  }
  return text.empty() ? text : wrap("Expected by its end: " + text, kPageWidth, "    ", "  ");
}

constexpr std::string_view kNothing = "nothing logged";
constexpr double kStandsIn = 0.3;  // transfer from which a kind can stand in for another

std::string mark_of(const PlannedDay& day, const std::vector<Done>& entries) {
  std::set<std::string> done;
  for (const Done& entry : entries) {
    if (entry.date != day.date) continue;
    if (const auto* missed = std::get_if<Missed>(&entry.what))
      return missed->reason.empty() ? "missed" : fmt::format("missed ({})", printable(missed->reason));
    if (const auto* work = std::get_if<WorkDone>(&entry.what)) done.insert(work->work);
    if (std::holds_alternative<ResultDone>(entry.what)) return "done: a result";
  }
  if (done.empty()) return std::string(kNothing);
  const bool all = std::all_of(day.blocks.begin(), day.blocks.end(),
                               [&](const Block& block) { return done.count(block.work) > 0; });
  return all ? "done" : "done in part";
}

// Kinds that feed the event this work trains and are not off, the strongest first.
std::string substitutes_for(const std::string& work, const std::set<std::string>& off, const Names& names) {
  const WorkKind* kind = names.model.find_work(work);
  if (kind == nullptr) return {};
  std::vector<std::pair<double, std::string>> found;
  for (const WorkKind& other : names.model.work) {
    const auto share = other.transfer.find(kind->trains);
    if (off.count(other.id) > 0 || share == other.transfer.end() || share->second < kStandsIn) continue;
    found.emplace_back(share->second, other.name);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::string text;
  for (const auto& [share, name] : found) text += (text.empty() ? "" : ", ") + name;
  return text;
}

}  // namespace

std::string week_text(const PlannedWeek& week, const Names& names, const DayMarks& marks) {
  std::string text = fmt::format("Week {} before the test, from {}: {}, {} min{}\n", week.index,
                                 io::say_date(week.starts), to_string(week.phase), week.minutes,
                                 week.provisional ? " (provisional: later results set the loads anew)" : "");
  if (week.days_long < 7) text += fmt::format("  A part of a week: {}.\n", count(week.days_long, "day"));
  if (week.days.empty()) text += "  No training this week.\n";
  for (const PlannedDay& day : week.days) text += planned_day_text(day, names, marks);
  return text + milestones_text(week, names);
}

std::string day_text(const Plan& plan, Date date, const Names& names, const DayMarks& marks) {
  std::string text = fmt::format("{}: {}\n", printable(plan.candidate), io::say_date(date));
  if (date == plan.test_date) return text + "  The test.\n";
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.date != date) continue;
      if (week.provisional) text += "  Provisional: later results set the loads anew.\n";
      return text + planned_day_text(day, names, marks);
    }
  }
  return text + "  No training on this day.\n";
}

DayMarks marks_of(const Plan& plan, const std::vector<Done>& entries, Date today) {
  DayMarks out;
  if (entries.empty()) return out;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.date > today || day.blocks.empty()) continue;
      const std::string mark = mark_of(day, entries);
      if (!mark.empty() && (mark != kNothing || day.date < today)) out[day.date] = mark;
    }
  }
  return out;
}

std::string pain_text(const std::vector<PainStop>& stops, const Names& names) {
  if (stops.empty()) return {};
  std::set<std::string> off;
  for (const PainStop& stop : stops) off.insert(stop.work.begin(), stop.work.end());
  std::string text = stops_text(stops, names);
  for (const std::string& work : off) {
    const std::string instead = substitutes_for(work, off, names);
    if (!instead.empty())
      text += wrap(fmt::format("Instead of {}: {}.", names.work(work), instead), kPageWidth, "    ", "  ");
  }
  return text;
}

std::string assumptions_text(const Plan& plan) {
  std::string text = fmt::format("{}: {} that this plan rests on\n\n", printable(plan.candidate),
                                 count(static_cast<int>(plan.assumptions.size()), "assumption"));
  for (const Assumption& one : plan.assumptions) {
    const std::string line =
        fmt::format("{} = {} ({}): {}", one.name, one.value, to_string(one.status), one.source);
    text += wrap(printable(line), kPageWidth, "    ", "  ");
  }
  return text;
}

std::string cautions_text(const Plan& plan) {
  if (plan.cautions.empty()) return {};
  std::string text = "Cautions\n";
  for (const std::string& caution : plan.cautions)
    text += wrap(printable(caution), kPageWidth, "    ", "  - ");
  return text;
}

}  // namespace backplan::report

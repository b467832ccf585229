#include "report/show_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <string_view>

#include "backplan/units.hpp"
#include "io/value_text.hpp"
#include "report/log_text.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

std::string work_list(const std::vector<std::string>& work, const Names& names) {
  std::string text;
  for (const std::string& one : work) text += (text.empty() ? "" : ", ") + names.work(one);
  return text;
}

std::string off_text(const Block& block, const WorkOff& off, const Names& names) {
  return wrap(fmt::format("{}, {} min: {}", names.work(block.work), block.minutes, off_words(off, names)),
              kPageWidth, "      ", "    ");
}

std::string block_text(const Block& block, const Names& names) {
  std::string head = fmt::format("{}, {} min", names.work(block.work), block.minutes);
  if (block.size == BlockSize::home) head += ", at home";
  if (block.rehearsal) head += ", rehearsal";
  std::string text =
      wrap(fmt::format("{}: {}", head, printable(block.prescription)), kPageWidth, "      ", "    ");
  if (!block.why.empty()) text += wrap("Why: " + printable(block.why), kPageWidth, "      ", "      ");
  if (!block.stop.empty()) text += wrap("Stop: " + printable(block.stop), kPageWidth, "      ", "      ");
  return text;
}

std::string planned_day_text(const PlannedDay& day, const Names& names, const DayNotes& notes) {
  std::string head = short_date(day.date);
  if (day.session_minutes > 0) {
    head += fmt::format(": {} min of the {} there are, with preparation and recovery", day.session_minutes,
                        day.slot_minutes);
  }
  if (const auto mark = notes.marks.find(day.date); mark != notes.marks.end())
    head += " [" + mark->second + "]";
  std::string text = "  " + head + '\n';
  if (!day.note.empty()) text += wrap(printable(day.note), kPageWidth, "    ", "    ");
  if (!day.fixed.empty()) {
    text += wrap(printable(fixed_words(day)), kPageWidth, "    ", "    ");
  }
  for (const Block& block : day.blocks) {
    const WorkOff* off = off_on(notes.off, day.date, block.work);
    text += off != nullptr ? off_text(block, *off, names) : block_text(block, names);
  }
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
constexpr std::string_view kToCome = "to come";

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
  if (all) return "done";
  const bool any = std::any_of(day.blocks.begin(), day.blocks.end(),
                               [&](const Block& block) { return done.count(block.work) > 0; });
  return any ? "done in part" : "other work logged";
}

std::string week_head(const PlannedWeek& week) {
  return fmt::format("Week {} before the test, from {}: {}, {} min{}\n", week.index,
                     io::say_date(week.starts), to_string(week.phase), week.minutes,
                     week.provisional ? " (provisional: later results set the loads anew)" : "");
}

}  // namespace

std::string fixed_words(const PlannedDay& day) {
  std::string text = day.fixed;
  if (day.fixed_distance) {
    text += fmt::format(" of {:.1f} mi ({:.1f} km)", day.fixed_distance->value() / kMetresPerMile,
                        day.fixed_distance->value() / 1000.0);
  }
  return text + fmt::format(", {} min (fixed)", day.fixed_minutes);
}

const WorkOff* off_on(const OffByDay& off, Date date, const std::string& work) {
  const auto day = off.find(date);
  if (day == off.end()) return nullptr;
  const auto found = std::find_if(day->second.begin(), day->second.end(),
                                  [&](const WorkOff& one) { return one.work == work; });
  return found == day->second.end() ? nullptr : &*found;
}

std::string week_text(const PlannedWeek& week, const Names& names, const DayNotes& notes) {
  std::string text = week_head(week);
  if (week.days_long < 7) text += fmt::format("  A part of a week: {}.\n", count(week.days_long, "day"));
  if (week.days.empty()) text += "  No training this week.\n";
  for (const PlannedDay& day : week.days) text += planned_day_text(day, names, notes);
  return text + milestones_text(week, names);
}

std::string coming_text(const Plan& plan, Date from, Date until, const Names& names, const DayNotes& notes) {
  std::string text;
  for (const PlannedWeek& week : plan.weeks) {
    if (week.starts + Days(week.days_long) <= from || week.starts >= until) continue;
    text += (text.empty() ? "" : "\n") + week_head(week);
    bool any = false;
    for (const PlannedDay& day : week.days) {
      if (day.date >= until) continue;
      any = true;
      if (day.date >= from) {
        text += planned_day_text(day, names, notes);
        continue;
      }
      std::string was;
      for (const Block& block : day.blocks) was += (was.empty() ? "" : ", ") + names.work(block.work);
      if (!day.fixed.empty()) was += (was.empty() ? "" : ", ") + printable(day.fixed);
      const auto mark = notes.marks.find(day.date);
      text += wrap(fmt::format("{}: {}{}", short_date(day.date), was,
                               mark == notes.marks.end() ? "" : " [" + mark->second + "]"),
                   kPageWidth, "    ", "  ");
    }
    if (!any) text += "  No training in these days.\n";
  }
  return text;
}

std::string day_text(const Plan& plan, Date date, const Names& names, const DayNotes& notes) {
  std::string text = fmt::format("{}: {}\n", printable(plan.candidate), io::say_date(date));
  if (date == plan.test_date) return text + "  The test.\n";
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.date != date) continue;
      if (week.provisional) text += "  Provisional: later results set the loads anew.\n";
      return text + planned_day_text(day, names, notes);
    }
  }
  return text + "  No training on this day.\n";
}

DayMarks marks_of(const Plan& plan, const std::vector<Done>& entries, Date today) {
  DayMarks out;
  if (entries.empty()) return out;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.blocks.empty()) continue;
      const std::string mark = day.date > today ? std::string(kToCome) : mark_of(day, entries);
      out[day.date] = mark == kNothing && day.date == today ? std::string(kToCome) : mark;
    }
  }
  return out;
}

std::string off_words(const WorkOff& off, const Names& names) {
  std::string text = fmt::format("OFF: {}.", printable(off.why));
  if (!off.instead.empty()) text += fmt::format(" Instead: {}.", work_list(off.instead, names));
  return text;
}

std::vector<std::string> instead_notices(const std::vector<WorkOff>& off, const Names& names) {
  std::vector<std::string> out;
  for (const WorkOff& one : off) {
    if (one.instead.empty()) continue;
    out.push_back(fmt::format("Instead of {}: {}.", names.work(one.work), work_list(one.instead, names)));
  }
  return out;
}

std::string instead_text(const std::vector<WorkOff>& off, const Names& names) {
  std::string text;
  for (const std::string& one : instead_notices(off, names)) text += wrap(one, kPageWidth, "    ", "  ");
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

std::string refused_text(const Plan& plan) {
  if (plan.refused.empty()) return {};
  std::string text = "No plan is made\n";
  for (const std::string& why : plan.refused) text += wrap(printable(why), kPageWidth, "    ", "  - ");
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

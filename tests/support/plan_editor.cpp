#include "support/plan_editor.hpp"

#include <algorithm>
#include <stdexcept>

#include "backplan/standard.hpp"

namespace backplan::testing {
namespace {

bool is_blocked(const Candidate& candidate, Date date) {
  return std::any_of(candidate.blocked.begin(), candidate.blocked.end(),
                     [&](const BlockedSpell& spell) { return spell.from <= date && date <= spell.to; });
}

int slot_of(const Candidate& candidate, Date date) {
  if (is_blocked(candidate, date)) return 0;
  for (const DayOverride& over : candidate.days) {
    if (over.date == date && over.minutes) return *over.minutes;
  }
  return candidate.week[static_cast<std::size_t>(weekday_index(date))];
}

int shape_minutes(const WorkKind& kind, BlockSize size) {
  if (size == BlockSize::full) return kind.full.minutes;
  if (size == BlockSize::shorter) return kind.shorter.minutes;
  return kind.home ? kind.home->minutes : 10;
}

bool is_at_home(const Block& block) { return block.size == BlockSize::home; }

}  // namespace

Plan empty_plan(const Candidate& candidate, Date as_of) {
  Plan plan;
  plan.candidate = candidate.id;
  plan.as_of = as_of;
  plan.test_date = candidate.test_date;
  plan.standard = candidate.standard;
  plan.category = candidate.category;
  plan.age = age_on(candidate.birth_date, candidate.test_date);
  plan.target = candidate.target;
  const int days = static_cast<int>((candidate.test_date - as_of).count());
  for (int index = (days + 6) / 7; index >= 1; --index) {
    PlannedWeek week;
    week.index = index;
    week.starts = std::max(as_of, candidate.test_date - Days{7 * index});
    week.days_long = static_cast<int>((candidate.test_date - Days{7 * (index - 1)} - week.starts).count());
    plan.weeks.push_back(week);
  }
  return plan;
}

PlannedWeek& PlanEditor::week(int index) {
  for (PlannedWeek& week : plan_.weeks) {
    if (week.index == index) return week;
  }
  throw std::logic_error("the plan has no such week");
}

PlannedDay& PlanEditor::day(Date date) {
  const int left = static_cast<int>((candidate_.test_date - date).count());
  std::vector<PlannedDay>& days = week((left + 6) / 7).days;
  const auto at = std::find_if(days.begin(), days.end(), [&](const PlannedDay& d) { return d.date >= date; });
  if (at != days.end() && at->date == date) return *at;
  PlannedDay made;
  made.date = date;
  return *days.insert(at, made);
}

Block& PlanEditor::add(Date date, const std::string& work, BlockSize size) {
  const WorkKind* kind = model_.find_work(work);
  if (kind == nullptr) throw std::logic_error("the model has no such work");
  Block block;
  block.work = work;
  block.size = size;
  block.minutes = shape_minutes(*kind, size);
  block.prescription = "as invented for a test";
  block.why = "to be judged";
  block.stop = "when the test is over";
  std::vector<Block>& blocks = day(date).blocks;
  auto at = blocks.end();
  if (size != BlockSize::home) at = std::find_if(blocks.begin(), blocks.end(), is_at_home);
  return *blocks.insert(at, block);
}

void PlanEditor::clear(Date date) { day(date).blocks.clear(); }

void PlanEditor::clear_week(int index) {
  for (PlannedDay& day : week(index).days) day.blocks.clear();
}

void PlanEditor::show_fixed(Date date) {
  if (is_blocked(candidate_, date)) return;
  for (const FixedWork& work : candidate_.fixed) {
    if (work.weekday != weekday_index(date)) continue;
    PlannedDay& entry = day(date);
    entry.fixed += (entry.fixed.empty() ? "" : " and ") + work.work;
    entry.fixed_minutes += work.minutes;
  }
}

void PlanEditor::refresh_day(PlannedDay& day) const {
  int blocks = 0;
  int minutes = 0;
  for (const Block& block : day.blocks) {
    if (is_at_home(block)) continue;
    ++blocks;
    minutes += block.minutes;
  }
  day.slot_minutes = slot_of(candidate_, day.date);
  day.session_minutes = blocks == 0 ? 0 : session_minutes(rules_, minutes, blocks);
}

void PlanEditor::refresh() {
  for (PlannedWeek& week : plan_.weeks) {
    for (PlannedDay& day : week.days) {
      day.fixed.clear();
      day.fixed_minutes = 0;
    }
    for (int offset = 0; offset < week.days_long; ++offset) show_fixed(week.starts + Days{offset});
    const auto is_empty = [](const PlannedDay& day) {
      return day.blocks.empty() && day.fixed.empty() && day.note.empty();
    };
    week.days.erase(std::remove_if(week.days.begin(), week.days.end(), is_empty), week.days.end());
    week.minutes = 0;
    for (PlannedDay& day : week.days) {
      refresh_day(day);
      week.minutes += day.session_minutes;
      for (const Block& block : day.blocks) week.minutes += is_at_home(block) ? block.minutes : 0;
    }
  }
}

}  // namespace backplan::testing

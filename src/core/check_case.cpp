#include "core/check_case.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>

namespace backplan::checking {
namespace {

bool within(Date date, Date from, Date to) { return from <= date && date <= to; }

void add_run(const FixedWork& work, DayFacts& day) {
  if (work.distance) day.fixed_run = std::max(day.fixed_run, *work.distance);
}

// By its distance, or by its minutes where it has none.
bool is_hard(const FixedWork& work, const FixedKind& kind) {
  if (work.distance) return work.distance->value() >= kind.hard_from_metres;
  return work.minutes >= kind.hard_from_minutes;
}

// Of the kinds of fixed work, or a work kind that is fixed.
void add_fixed(const FixedWork& work, const Model& model, const Rules& rules, DayFacts& day) {
  day.fixed = true;
  day.fixed_minutes += work.minutes;
  if (const FixedKind* kind = model.find_fixed(work.work)) {
    day.fixed_hard = day.fixed_hard || is_hard(work, *kind);
    day.long_march =
        day.long_march || (kind->march && work.distance && *work.distance >= rules.march_spacing_from);
    if (kind->running) add_run(work, day);
  } else if (const WorkKind* known = model.find_work(work.work)) {
    day.fixed_hard = day.fixed_hard || known->hard;
    if (known->running) add_run(work, day);
  }
}

void set_override(const DayOverride& over, const Rules& rules, DayFacts& day) {
  if (over.date == day.date && over.minutes) day.slot_minutes = *over.minutes;
  const Date last_easy = over.date + Days{rules.night_shift_easy_days - 1};
  if (over.after_night_shift && within(day.date, over.date, last_easy)) day.after_night = true;
}

DayFacts calendar_day(Date date, int week, const Candidate& candidate, const Model& model,
                      const Rules& rules) {
  DayFacts day;
  day.date = date;
  day.week = week;
  const int weekday = weekday_index(date);
  day.slot_minutes = candidate.week[static_cast<std::size_t>(weekday)];
  for (const DayOverride& over : candidate.days) set_override(over, rules, day);
  for (const BlockedSpell& spell : candidate.blocked) {
    if (within(date, spell.from, spell.to)) day.blocked = true;
  }
  day.diagnostic = std::find(candidate.diagnostics.begin(), candidate.diagnostics.end(), date) !=
                   candidate.diagnostics.end();
  if (day.blocked) {
    day.slot_minutes = 0;
    return day;
  }
  for (const FixedWork& work : candidate.fixed) {
    if (work.weekday == weekday) add_fixed(work, model, rules, day);
  }
  return day;
}

// Days of the plan that lie outside the calendar are left to check_form.
void place_blocks(Case& c) {
  for (const PlannedWeek& week : c.plan.weeks) {
    for (const PlannedDay& planned : week.days) {
      const auto offset = (planned.date - c.plan.as_of).count();
      if (offset < 0 || offset >= static_cast<long>(c.days.size())) continue;
      DayFacts& day = c.days[static_cast<std::size_t>(offset)];
      day.entries.push_back(&planned);
      for (const Block& block : planned.blocks) {
        const WorkKind* kind = c.model.find_work(block.work);
        if (kind == nullptr) continue;
        day.blocks.push_back({&block, kind, block.size == BlockSize::home, kind->hard || block.rehearsal});
      }
    }
  }
}

void add_day(const DayFacts& day, WeekFacts& week) {
  week.days.push_back(&day);
  week.blocked_days += day.blocked ? 1 : 0;
  week.slot_minutes += day.slot_minutes;
  week.session_minutes += day.session_minutes();
  week.minutes += day.minutes();
  week.fixed_hard_days += day.fixed_hard ? 1 : 0;
  for (const BlockFacts& block : day.blocks) week.planned_hard_blocks += block.hard ? 1 : 0;
}

void gather_weeks(Case& c) {
  for (const DayFacts& day : c.days) {
    if (c.weeks.empty() || c.weeks.back().index != day.week) {
      WeekFacts week;
      week.index = day.week;
      for (const PlannedWeek& planned : c.plan.weeks) {
        if (planned.index == day.week && week.planned == nullptr) week.planned = &planned;
      }
      if (week.planned != nullptr) week.phase = week.planned->phase;
      c.weeks.push_back(week);
    }
    add_day(day, c.weeks.back());
  }
}

int minutes_available(const Candidate& candidate, const Rules& rules, const Model& model) {
  int minutes = 0;
  for (const int each : candidate.week) minutes += each;
  // All home shapes take the same ten minutes; the longest would count if one day they did not.
  int home = 0;
  for (const std::string& id : rules.home_work) {
    const WorkKind* kind = model.find_work(id);
    if (kind != nullptr && kind->home) home = std::max(home, kind->home->minutes);
  }
  return minutes + candidate.home_blocks * home;
}

}  // namespace

bool DayFacts::planned_hard() const {
  return std::any_of(blocks.begin(), blocks.end(), [](const BlockFacts& block) { return block.hard; });
}

bool DayFacts::has_family(const std::string& family) const {
  return std::any_of(blocks.begin(), blocks.end(),
                     [&](const BlockFacts& block) { return block.kind->family == family; });
}

bool DayFacts::has_lift() const {
  return std::any_of(blocks.begin(), blocks.end(),
                     [](const BlockFacts& block) { return block.kind->family == "lift"; });
}

bool DayFacts::has_running() const {
  return std::any_of(blocks.begin(), blocks.end(),
                     [](const BlockFacts& block) { return block.kind->running; });
}

int DayFacts::session_minutes() const {
  int minutes = 0;
  for (const PlannedDay* entry : entries) minutes += entry->session_minutes;
  return minutes;
}

int DayFacts::minutes() const {
  int minutes = session_minutes();
  for (const BlockFacts& block : blocks) minutes += block.home ? block.block->minutes : 0;
  return minutes;
}

const DayFacts* Case::day(Date date) const {
  const auto offset = (date - plan.as_of).count();
  if (offset < 0 || offset >= static_cast<long>(days.size())) return nullptr;
  return &days[static_cast<std::size_t>(offset)];
}

int Case::week_index(Date date) const {
  return static_cast<int>((candidate.test_date - date).count() + 6) / 7;
}

void Findings::add(std::string rule, Date where, std::string what) {
  all_.push_back({std::move(rule), where, std::move(what)});
}

std::vector<Violation> Findings::sorted() && {
  std::stable_sort(all_.begin(), all_.end(), [](const Violation& a, const Violation& b) {
    return a.where != b.where ? a.where < b.where : a.rule < b.rule;
  });
  return std::move(all_);
}

Case lay_out(const Plan& plan, const Candidate& candidate, const Model& model, const Rules& rules) {
  const bool postpartum = candidate.medical.status == MedicalStatus::postpartum;
  Case c{plan, candidate, model, rules, postpartum ? Background::new_to_training : candidate.background,
         0,    {},        {},    {}};
  c.taper_days = taper_days(rules, minutes_available(candidate, rules, model));
  c.taper_from = candidate.test_date - Days{c.taper_days};
  for (Date date = plan.as_of; date < candidate.test_date; date += Days{1}) {
    c.days.push_back(calendar_day(date, c.week_index(date), candidate, model, rules));
  }
  place_blocks(c);
  gather_weeks(c);
  return c;
}

std::vector<Span> blocked_runs(const Candidate& candidate, const std::vector<BlockedKind>& kinds) {
  std::vector<Span> spells;
  for (const BlockedSpell& spell : candidate.blocked) {
    if (std::find(kinds.begin(), kinds.end(), spell.kind) != kinds.end()) {
      spells.push_back({spell.from, spell.to});
    }
  }
  std::sort(spells.begin(), spells.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
  std::vector<Span> runs;
  for (const Span& spell : spells) {
    if (!runs.empty() && spell.from <= runs.back().to + Days{1}) {
      runs.back().to = std::max(runs.back().to, spell.to);
    } else {
      runs.push_back(spell);
    }
  }
  return runs;
}

std::optional<double> usual_minutes(const Case& c, Date before) {
  std::vector<int> minutes;
  for (auto week = c.weeks.rbegin(); week != c.weeks.rend() && minutes.size() < 3; ++week) {
    if (week->full_build() && week->days.back()->date < before) minutes.push_back(week->minutes);
  }
  if (minutes.empty()) return std::nullopt;
  std::sort(minutes.begin(), minutes.end());
  const std::size_t middle = minutes.size() / 2;
  if (minutes.size() % 2 == 1) return minutes[middle];
  return 0.5 * (minutes[middle - 1] + minutes[middle]);
}

std::string iso(Date date) {
  const std::chrono::year_month_day ymd(date);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(ymd.year()), static_cast<unsigned>(ymd.month()),
                     static_cast<unsigned>(ymd.day()));
}

}  // namespace backplan::checking

#include "property/mutation_places.hpp"

#include <algorithm>
#include <stdexcept>

namespace backplan::testing {

PlanEditor editor(Finished& f) { return PlanEditor(f.plan, f.candidate, f.model, f.rules); }

const WorkKind& kind_of(const Finished& f, const Block& block) {
  const WorkKind* kind = f.model.find_work(block.work);
  if (kind == nullptr) throw std::logic_error("a finished plan with unknown work");
  return *kind;
}

bool is_hard(const Finished& f, const Block& block) { return kind_of(f, block).hard || block.rehearsal; }

bool is_blocked(const Finished& f, Date date) {
  return std::any_of(f.candidate.blocked.begin(), f.candidate.blocked.end(),
                     [&](const BlockedSpell& spell) { return spell.from <= date && date <= spell.to; });
}

const WorkKind* of_family(const Finished& f, const std::string& family) {
  for (const WorkKind& kind : f.model.work) {
    if (kind.family == family) return &kind;
  }
  return nullptr;
}

bool has_family(const Finished& f, const PlannedDay& day, const std::string& family) {
  return std::any_of(day.blocks.begin(), day.blocks.end(),
                     [&](const Block& block) { return kind_of(f, block).family == family; });
}

std::optional<BlockPlace> any_block(Finished& f,
                                    const std::function<bool(const PlannedDay&, const Block&)>& fits) {
  std::vector<BlockPlace> places;
  for (const PlannedWeek& week : f.plan.weeks) {
    for (const PlannedDay& day : week.days) {
      for (std::size_t i = 0; i < day.blocks.size(); ++i) {
        if (fits(day, day.blocks[i])) places.push_back({day.date, i});
      }
    }
  }
  if (places.empty()) return std::nullopt;
  return f.random.choice(places);
}

Block& block_at(Finished& f, const BlockPlace& place) {
  return editor(f).day(place.date).blocks.at(place.number);
}

std::optional<Date> any_day(Finished& f, const std::function<bool(const PlannedDay&)>& fits) {
  std::vector<Date> dates;
  for (const PlannedWeek& week : f.plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (fits(day)) dates.push_back(day.date);
    }
  }
  if (dates.empty()) return std::nullopt;
  return f.random.choice(dates);
}

std::optional<Date> any_date(Finished& f, const std::function<bool(Date)>& fits) {
  std::vector<Date> dates;
  for (Date date = f.plan.as_of; date < f.candidate.test_date; date += Days{1}) {
    if (!is_blocked(f, date) && fits(date)) dates.push_back(date);
  }
  if (dates.empty()) return std::nullopt;
  return f.random.choice(dates);
}

PlannedWeek* any_week(Finished& f, const std::function<bool(const PlannedWeek&)>& fits) {
  std::vector<PlannedWeek*> weeks;
  for (PlannedWeek& week : f.plan.weeks) {
    if (fits(week)) weeks.push_back(&week);
  }
  return weeks.empty() ? nullptr : f.random.choice(weeks);
}

void offer(Finished& f, Date date, int minutes) {
  for (DayOverride& day : f.candidate.days) {
    if (day.date != date) continue;
    day.minutes = minutes;
    return;
  }
  DayOverride day;
  day.date = date;
  day.minutes = minutes;
  f.candidate.days.push_back(day);
}

}  // namespace backplan::testing

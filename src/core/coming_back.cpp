#include "core/coming_back.hpp"

#include <algorithm>
#include <iterator>

#include "backplan/suited.hpp"

namespace backplan {
namespace {

// After the test: as far as ways out look for a later one.
constexpr Days kLookAhead{366};

bool lies_within(Date date, const std::optional<Date>& from, const std::optional<Date>& until) {
  return (!from || date >= *from) && (!until || date <= *until);
}

bool is_blocked(const Candidate& candidate, Date date) {
  return std::any_of(candidate.blocked.begin(), candidate.blocked.end(),
                     [date](const BlockedSpell& spell) { return date >= spell.from && date <= spell.to; });
}

enum class Without { taken, never, open };  // this day's time; there never is any; there was or is

class DaysWithout {
 public:
  DaysWithout(const Candidate& candidate, const std::vector<const WorkKind*>& work, Date as_of)
      : candidate_(candidate), work_(work), as_of_(as_of) {}

  [[nodiscard]] Without on(Date date) const {
    const auto& off = candidate_.now.off;
    if (off && date >= off->from && date <= off->to) return Without::taken;
    if (is_blocked(candidate_, date) || none_permitted(candidate_, work_, date)) return Without::taken;
    const int usual = candidate_.week[static_cast<std::size_t>(weekday_index(date))];
    const bool has_time = date < as_of_ ? usual > 0 : slot_on(date, usual) > 0;
    if (has_time) return Without::open;
    if (usual == 0) return Without::never;
    return candidate_.home_blocks > 0 || has_fixed(date) ? Without::open : Without::taken;
  }

 private:
  [[nodiscard]] int slot_on(Date date, int usual) const {
    int slot = usual;
    for (const DayOverride& own : candidate_.days) {
      if (own.date == date && own.minutes) slot = *own.minutes;
    }
    return slot;
  }

  [[nodiscard]] bool has_fixed(Date date) const {
    return std::any_of(candidate_.fixed.begin(), candidate_.fixed.end(),
                       [date](const FixedWork& fixed) { return fixed.weekday == weekday_index(date); });
  }

  const Candidate& candidate_;
  const std::vector<const WorkKind*>& work_;
  Date as_of_;
};

}  // namespace

bool is_permitted(const Candidate& candidate, const std::string& work, Date date) {
  const Medical& medical = candidate.medical;
  const bool on_profile =
      medical.status == MedicalStatus::profile && lies_within(date, medical.since, medical.until);
  if (on_profile && medical.permitted.count(work) == 0) return false;
  return std::none_of(candidate.avoid.begin(), candidate.avoid.end(), [&](const Avoid& avoid) {
    return avoid.work == work && lies_within(date, avoid.from, avoid.until);
  });
}

std::vector<const WorkKind*> placeable(const Knowledge& knowledge) {
  std::vector<const WorkKind*> out;
  for (const WorkKind& kind : knowledge.model.work) {
    if (is_work_for(kind, knowledge.standard)) out.push_back(&kind);
  }
  return out;
}

bool none_permitted(const Candidate& candidate, const std::vector<const WorkKind*>& work, Date date) {
  return std::none_of(work.begin(), work.end(),
                      [&](const WorkKind* kind) { return is_permitted(candidate, kind->id, date); });
}

std::vector<BlockedSpell> days_of_nothing(const Candidate& candidate,
                                          const std::vector<const WorkKind*>& work, Date as_of) {
  std::vector<BlockedSpell> out;
  if (work.empty()) return out;
  for (Date date = as_of - Days(kLookBackDays); date < candidate.test_date + kLookAhead; date += Days(1)) {
    if (is_blocked(candidate, date) || !none_permitted(candidate, work, date)) continue;
    if (out.empty() || out.back().to + Days(1) != date)
      out.push_back({date, date, BlockedKind::rest, "nothing is permitted"});
    out.back().to = date;
  }
  return out;
}

std::vector<DaysOff> spells_without(const Candidate& candidate, const std::vector<const WorkKind*>& work,
                                    Date as_of) {
  std::vector<DaysOff> out;
  if (work.empty()) return out;
  const DaysWithout days(candidate, work, as_of);
  bool goes_on = false;
  for (Date date = as_of - Days(kLookBackDays); date < candidate.test_date; date += Days(1)) {
    const Without here = days.on(date);
    if (here == Without::open) goes_on = false;
    if (here == Without::never && goes_on) out.back().to = date;  // the return is the first day with time
    if (here != Without::taken) continue;
    if (!goes_on) out.push_back({date, date});
    out.back().to = date;
    goes_on = true;
  }
  return out;
}

std::vector<const WorkKind*> comes_back_with(const WorkKind& kind,
                                             const std::vector<const WorkKind*>& kinds) {
  if (!kind.running) return {&kind};
  std::vector<const WorkKind*> out;
  std::copy_if(kinds.begin(), kinds.end(), std::back_inserter(out),
               [](const WorkKind* one) { return one->running; });
  return out;
}

bool is_fast_running(const WorkKind& kind) {
  const auto transfer = kind.transfer.find(kind.trains);
  return kind.running &&
         (kind.hard || (transfer != kind.transfer.end() && transfer->second >= kThresholdTransfer));
}

std::vector<Date> returns_of(const std::vector<DaysOff>& spells, const Rules& rules) {
  std::vector<Date> out;
  for (const DaysOff& spell : spells) {
    if ((spell.to - spell.from).count() + 1 >= rules.off_days_for_untrained)
      out.push_back(spell.to + Days(1));
  }
  return out;
}

std::optional<int> days_back(const std::vector<Date>& returns, Date date) {
  std::optional<int> out;
  for (const Date back : returns) {
    if (back <= date) out = static_cast<int>((date - back).count());
  }
  return out;
}

}  // namespace backplan

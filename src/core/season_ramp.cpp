// The shares of the slots in the first weeks of somebody untrained or back from days without training
// (data/model/rules.json, ramp).
#include <algorithm>

#include "core/season.hpp"

namespace backplan {
namespace {

// Blocked spells and what the journal leaves empty, by date; those that touch are one.
std::vector<DaysOff> spells_off(const Candidate& candidate) {
  std::vector<DaysOff> spells;
  for (const BlockedSpell& spell : candidate.blocked) spells.push_back({spell.from, spell.to});
  if (candidate.now.off) spells.push_back(*candidate.now.off);
  std::sort(spells.begin(), spells.end(), [](const DaysOff& a, const DaysOff& b) { return a.from < b.from; });
  std::vector<DaysOff> out;
  for (const DaysOff& spell : spells) {
    if (out.empty() || spell.from > out.back().to + Days(1)) {
      out.push_back(spell);
    } else {
      out.back().to = std::max(out.back().to, spell.to);
    }
  }
  return out;
}

}  // namespace

bool SeasonPlanner::is_untrained() const {
  const TrainingNow& now = candidate_.now;
  return now.minutes ? *now.minutes < knowledge_.rules.untrained_under_minutes
                     : candidate_.background == Background::new_to_training;
}

void SeasonPlanner::note_ramps() {
  const Rules& rules = knowledge_.rules;
  week_share_.assign(weeks_.size(), 1.0);
  const auto ramp_from = [&](Date day, const std::vector<double>& shares) {
    // Weeks since then that are over have had their share.
    const auto weeks_before = [&](Date date) { return ((candidate_.test_date - date).count() + 6) / 7; };
    auto step = static_cast<std::size_t>(std::max<long>(0, weeks_before(day) - weeks_before(as_of_)));
    for (std::size_t w = 0; w < weeks_.size() && step < shares.size(); ++w) {
      const Date ends =
          calendar_.days()[static_cast<std::size_t>(weeks_[w].first + weeks_[w].count - 1)].date;
      if (ends < day || weeks_[w].open == 0) continue;
      week_share_[w] = std::min(week_share_[w], shares[step++]);
    }
  };
  if (is_untrained()) ramp_from(candidate_.now.since.value_or(as_of_), rules.untrained_shares);
  for (const DaysOff& spell : spells_off(candidate_)) {
    const auto days = (spell.to - spell.from).count() + 1;
    if (days >= rules.off_days_for_untrained) {
      ramp_from(spell.to + Days(1), rules.untrained_shares);
    } else if (days >= rules.lost_days_for_half) {
      ramp_from(spell.to + Days(1), {rules.half_share});
    }
  }
}

}  // namespace backplan

// The shares of the slots in the first weeks of somebody untrained or back from days without training
// (data/model/rules.json, ramp).
#include <algorithm>

#include "core/coming_back.hpp"
#include "core/season.hpp"

namespace backplan {

bool SeasonPlanner::is_untrained() const {
  const TrainingNow& now = candidate_.now;
  return now.minutes ? *now.minutes < knowledge_.rules.untrained_under_minutes
                     : candidate_.trains_as() == Background::new_to_training;
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
  for (const DaysOff& spell : spells_without(candidate_, calendar_.kinds(), as_of_)) {
    const auto days = (spell.to - spell.from).count() + 1;
    if (days >= rules.off_days_for_untrained) {
      ramp_from(spell.to + Days(1), rules.untrained_shares);
    } else if (days >= rules.lost_days_for_half) {
      ramp_from(spell.to + Days(1), {rules.half_share});
    }
  }
}

}  // namespace backplan

#include "core/absence.hpp"

#include <algorithm>

#include "core/coming_back.hpp"
#include "core/dose_history.hpp"

namespace backplan {

Absence::Absence(const std::vector<const WorkKind*>& kinds, const History& history, const Model& model,
                 const Rules& rules, Date as_of)
    : off_days_(rules.off_days_for_untrained) {
  for (const WorkKind* kind : kinds) {
    const auto with = comes_back_with(*kind, kinds);
    std::vector<std::size_t> places;
    for (std::size_t k = 0; k < kinds.size(); ++k) {
      if (std::count(with.begin(), with.end(), kinds[k]) > 0) places.push_back(k);
    }
    together_.push_back(std::move(places));
  }
  tracks_.assign(kinds.size(), {history.begins.value_or(as_of), {}});
  if (!history.begins) return;
  Date date = *history.begins;
  for (const DayDone& day : days_done(history, model, as_of)) {
    for (std::size_t k = 0; k < kinds.size(); ++k) {
      const auto stimulus = day.stimulus.find(kinds[k]->id);
      if (stimulus != day.stimulus.end() && stimulus->second > 0.0) done(k, date);
    }
    date += Days(1);
  }
}

bool Absence::is_return(const Track& track, Date date) const {
  return (date - track.last).count() > off_days_;
}

void Absence::note(Track& track, Date date) const {
  if (is_return(track, date)) track.back = date;
  track.last = date;
}

void Absence::done(std::size_t kind, Date date) {
  for (const std::size_t other : together_[kind]) note(tracks_[other], date);
}

void Absence::tested(Date date) {
  for (Track& track : tracks_) note(track, date);
}

std::optional<int> Absence::days_back(std::size_t kind, Date date) const {
  const Track& track = tracks_[kind];
  if (is_return(track, date)) return 0;
  if (!track.back) return std::nullopt;
  return static_cast<int>((date - *track.back).count());
}

}  // namespace backplan

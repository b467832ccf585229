// Season: from a pack for each week to blocks on days, week after week, with the rules that reach
// across weeks.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "core/filling.hpp"
#include "core/season.hpp"

namespace backplan {
namespace {

int rehearsals_in(const std::vector<PlacedDay>& days) {
  int n = 0;
  for (const auto& day : days) {
    for (const auto& block : day.blocks) n += block.rehearsal ? 1 : 0;
  }
  return n;
}

// Equal weeks take their packs with the longer ones first: the harder week earlier.
std::vector<Column> harder_first(const AllocationTask& task, const Allocation& allocation) {
  std::vector<Column> columns = allocation.columns;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    for (std::size_t j = i + 1; j < columns.size(); ++j) {
      if (task.is_deload[i] || task.is_deload[j]) continue;
      if (task.weeks[i].signature != task.weeks[j].signature) continue;
      const bool swap = columns[j].minutes != columns[i].minutes ? columns[j].minutes > columns[i].minutes
                                                                 : columns[j].pack > columns[i].pack;
      if (swap) std::swap(columns[i], columns[j]);
    }
  }
  return columns;
}

}  // namespace

// What the weeks so far leave to the next one.
struct SeasonPlanner::Trail {
  Laid laid;
  // Of this plan, as the checker sees it; before its first week the past counts.
  std::vector<int> build_minutes;
  std::vector<int> part_minutes;  // of build weeks with days off, as if they had none
  std::uint32_t days = ~0U;       // on which the build weeks train, the first day of a week first
  std::optional<int> hard = {};   // sessions of the last build week
};

Season SeasonPlanner::schedule(const AllocationTask& task, const Allocation& allocation) {
  Season season;
  season.weeks = weeks_;
  season.bound = allocation.bound;
  Trail trail{Laid(calendar_), {}, {}};
  const auto columns = harder_first(task, allocation);
  for (std::size_t w = 0; w < season.weeks.size(); ++w) {
    SeasonWeek& week = season.weeks[w];
    Pack pack = task.weeks[w].kept.value_or(Pack{});
    if (week.kept) {
      place_kept(week);
    } else if (task.weeks[w].count > 0 && week.phase != Phase::blocked) {
      if (task.is_deload[w] && usual_minutes(trail) > 0) {
        week.phase = Phase::deload;
        week.deload = deload_limits(task.as_deload[w], week, trail);
      }
      const Segment limits = week.deload ? *week.deload : build_limits(task.weeks[w], season.weeks, w);
      const bool proven = std::isfinite(allocation.bound);
      pack = place_week(week, limits, {columns[w].pack, allocation.prices, proven}, trail);
    } else {
      continue;
    }
    week.column = search_.column_of(pack, segments_[w], week.minutes);
    note(week, trail);
  }
  place_taper(season, trail.build_minutes.empty() ? beginning_.so_far.build_minutes : trail.build_minutes);
  finish(season);
  return season;
}

Segment SeasonPlanner::build_limits(Segment segment, const std::vector<SeasonWeek>& weeks,
                                    std::size_t w) const {
  segment.most_hard = std::min(segment.most_hard + (segment.rehearse ? 1 : 0),
                               std::max(0, ramp_limit(weeks, w) - weeks[w].fixed_hard));
  return segment;
}

Segment SeasonPlanner::deload_limits(Segment segment, const SeasonWeek& week, const Trail& trail) const {
  segment.most_minutes =
      std::min(segment.most_minutes, static_cast<int>(knowledge_.rules.deload_most * usual_minutes(trail)));
  if (week.count == kDaysAWeek) segment.only_days = trail.days;
  if (trail.hard) segment.most_hard = std::min(segment.most_hard, std::max(0, *trail.hard - week.fixed_hard));
  const std::string limits = fmt::format("|d{}", segment.only_days);
  segment.days += limits;
  segment.signature += fmt::format("{},{},{}", limits, segment.most_minutes, segment.most_hard);
  return segment;
}

// Weeks with days off are a measure only where there is no whole one.
int SeasonPlanner::usual_minutes(const Trail& trail) const {
  for (const std::vector<int>* weeks : {&trail.build_minutes, &beginning_.so_far.build_minutes})
    if (!weeks->empty()) return median_of_last(*weeks, kWeeksCompared);
  return median_of_last(trail.part_minutes, kWeeksCompared);
}

Pack SeasonPlanner::place_week(SeasonWeek& week, Segment segment, const Wanted& wanted, const Trail& trail) {
  const bool deload = week.phase == Phase::deload;
  const int least = deload ? static_cast<int>(knowledge_.rules.deload_least * usual_minutes(trail)) + 1 : 0;
  Pack pack = wanted.pack;
  if (deload && following_) {
    pack = lighter_common_week(segment, pack, least);
  } else if (deload) {
    pack = wanted.proven ? search_.best(segment, wanted.prices, false).pack
                         : search_.good(segment, wanted.prices).pack;
  }
  PlaceRequest request = request_for(segment);
  request.around = trail.laid.around(segment.first, segment.count, beginning_.so_far, as_of_);
  Filling filling(calendar_, segment, request, Pack{});
  filling.take_or_lighten(pack);
  if (deload) fill_up(filling, least);
  const Placement& placement = filling.placement();
  std::copy(placement.days.begin(), placement.days.end(), week.days.begin());
  week.minutes = placement.minutes;
  week.hard = week.fixed_hard + calendar_.hard_blocks(filling.pack()) + rehearsals_in(week.days);
  return filling.pack();
}

// A deload that is too light, because nothing in it pays, is filled with what keeps the habit: easy work
// first.
void SeasonPlanner::fill_up(Filling& filling, int least_minutes) const {
  for (const bool hard : {false, true}) {
    for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
      if (calendar_.kinds()[k]->hard != hard) continue;
      while (filling.placement().minutes < least_minutes && filling.add(k)) continue;
    }
  }
}

void SeasonPlanner::note(const SeasonWeek& week, Trail& trail) const {
  trail.laid.add(week.first, week.days);
  if (week.phase != Phase::build) return;
  if (week.full) {
    trail.build_minutes.push_back(week.minutes);
    // Days of a week with slots of its own or a practice test are no habit: those of the weeks before stay.
    if (!has_own_slots(week) && week.tests == 0) trail.days = 0;
    for (std::size_t i = 0; i < week.days.size(); ++i) {
      if (!week.days[i].blocks.empty()) trail.days |= 1U << i;
    }
    trail.hard = week.hard;
  } else if (week.open >= kOpenDaysOfAWeek) {
    trail.part_minutes.push_back(kDaysAWeek * week.minutes / week.open);
    if (!trail.hard) trail.hard = week.hard;
  }
}

void SeasonPlanner::place_kept(SeasonWeek& week) const {
  week.minutes = 0;
  week.hard = week.fixed_hard;
  for (int i = 0; i < week.count; ++i) {
    const PlannedDay* day = kept_day(calendar_.days()[static_cast<std::size_t>(week.first + i)].date);
    if (day == nullptr) continue;
    PlacedDay placed;
    placed.session = day->session_minutes;
    week.minutes += day->session_minutes;
    for (const Block& block : day->blocks) {
      for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
        if (calendar_.kinds()[k]->id != block.work) continue;
        placed.blocks.push_back({static_cast<int>(k), block.size, block.rehearsal});
        if (calendar_.kinds()[k]->hard || block.rehearsal) ++week.hard;
      }
      if (block.size == BlockSize::home) week.minutes += block.minutes;
    }
    week.days[static_cast<std::size_t>(i)] = std::move(placed);
  }
}

int SeasonPlanner::ramp_limit(const std::vector<SeasonWeek>& weeks, std::size_t week) const {
  const Rules& rules = knowledge_.rules;
  const int start =
      candidate_.now.hard_sessions.value_or(rules.hard_sessions_at_start.of(candidate_.trains_as()));
  int last = start;
  int before_last = start;
  for (std::size_t w = 0; w < week; ++w) {
    if (weeks[w].phase != Phase::build || weeks[w].open < kOpenDaysOfAWeek) continue;
    before_last = last;
    last = std::max(0, weeks[w].hard - weeks[w].tests);
  }
  return std::max(last, before_last) + rules.hard_sessions_step;
}

void SeasonPlanner::finish(Season& season) {
  season.dosage.s.assign(states_.size(), 0.0);
  season.dosage.loss.assign(states_.size(), 0.0);
  std::vector<int> minutes;
  for (std::size_t w = 0; w < season.weeks.size(); ++w) {
    SeasonWeek& week = season.weeks[w];
    if (week.column.s.empty()) week.column = search_.column_of(Pack{}, segments_[w], 0);
    for (std::size_t e = 0; e < states_.size(); ++e) {
      season.dosage.s[e] += week.column.s[e];
      season.dosage.loss[e] += week.column.loss[e];
    }
    if (week.phase == Phase::build && week.full) minutes.push_back(week.minutes);
  }
  if (minutes.empty()) {
    for (const auto& week : season.weeks) minutes.push_back(week.minutes);
  }
  season.minutes_per_week = median_of_last(minutes, minutes.size());
  season.value = 0.0;
  for (std::size_t e = 0; e < states_.size() && !following_; ++e)
    season.value += values()[e].at(season.dosage.s[e], season.dosage.loss[e]);
  // The value charges every loss, so that giving an event up is never free; the forecast knows that
  // losses level off (loss cap of data/model/events.json).
  for (std::size_t e = 0; e < states_.size(); ++e) {
    season.dosage.loss[e] = std::min(season.dosage.loss[e], states_[e].model->loss_cap);
  }
}

}  // namespace backplan

// Season: from a pack for each week to blocks on days, week after week, with the rules that reach
// across weeks; then the taper.
#include <algorithm>
#include <array>
#include <string>

#include "core/season.hpp"

namespace backplan {
namespace {

// What keeps its place longest as the taper thins the week.
const std::array<std::string, 9> kTaperOrder{"lift",    "intervals", "press",  "hold", "steady",
                                             "shuttle", "throw",     "pieces", "drill"};
constexpr double kPriceOfHabit =
    0.5;  // points a stimulus, where nothing pays: any amount above nothing will do
constexpr std::size_t kWeeksCompared = 3;  // build weeks that a deload and the taper are measured by

int median_of_last(std::vector<int> minutes, std::size_t n) {
  if (minutes.empty()) return 0;
  if (minutes.size() > n) minutes.erase(minutes.begin(), minutes.end() - static_cast<std::ptrdiff_t>(n));
  std::sort(minutes.begin(), minutes.end());
  return minutes.size() % 2 == 1 ? minutes[minutes.size() / 2]
                                 : (minutes[minutes.size() / 2 - 1] + minutes[minutes.size() / 2]) / 2;
}

// Packs with one block fewer or shorter, hard ones first.
std::vector<Pack> lighter(const Pack& pack, const std::vector<const WorkKind*>& kinds) {
  std::vector<Pack> out;
  for (int pass = 0; pass < 2; ++pass) {
    for (std::size_t k = 0; k < kinds.size(); ++k) {
      if (kinds[k]->hard != (pass == 0)) continue;
      const KindCount& n = pack.kinds[k];
      Pack less = pack;
      if (n.full > 0) {
        less.kinds[k].full -= 1;
        less.kinds[k].shorter += 1;
        out.push_back(less);
      }
      less = pack;
      if (n.shorter > 0) {
        less.kinds[k].shorter -= 1;
        out.push_back(less);
      }
      less = pack;
      if (n.home > 0) {
        less.kinds[k].home -= 1;
        out.push_back(less);
      }
    }
  }
  return out;
}

// What has been put on the days so far.
struct Laid {
  std::vector<bool> hard, lift, intervals;
};

Surroundings around(const Laid& laid, int first, int count, const SoFar& so_far, Date today) {
  const auto at = [&](const std::vector<bool>& flags, int i) {
    return i >= 0 && i < static_cast<int>(flags.size()) && flags[static_cast<std::size_t>(i)];
  };
  Surroundings out;
  out.hard_before = at(laid.hard, first - 1);
  out.hard_two_before = at(laid.hard, first - 2);
  out.hard_after = at(laid.hard, first + count);
  out.hard_two_after = at(laid.hard, first + count + 1);
  out.lift_before = at(laid.lift, first - 1);
  out.intervals_before = at(laid.intervals, first - 1);
  const auto before = [&](int days) { return so_far.on(today - Days(days)); };
  if (first == 0) {
    const TrainedDay* yesterday = before(1);
    const TrainedDay* before_that = before(2);
    if (yesterday != nullptr) {
      out.hard_before = yesterday->hard;
      out.lift_before = yesterday->lift;
      out.intervals_before = yesterday->intervals;
    }
    out.hard_two_before = before_that != nullptr && before_that->hard;
  } else if (first == 1) {
    const TrainedDay* before_that = before(1);
    out.hard_two_before = before_that != nullptr && before_that->hard;
  }
  return out;
}

void lay(Laid& laid, const Calendar& calendar, int first, const std::vector<PlacedDay>& days) {
  for (std::size_t i = 0; i < days.size(); ++i) {
    for (const PlacedBlock& block : days[i].blocks) {
      const WorkKind& kind = *calendar.kinds()[static_cast<std::size_t>(block.kind)];
      const auto at = static_cast<std::size_t>(first) + i;
      if (kind.hard || block.rehearsal) laid.hard[at] = true;
      if (kind.family == "lift") laid.lift[at] = true;
      if (kind.family == "intervals") laid.intervals[at] = true;
    }
  }
}

int rehearsals_in(const std::vector<PlacedDay>& days) {
  int n = 0;
  for (const auto& day : days) {
    for (const auto& block : day.blocks) n += block.rehearsal ? 1 : 0;
  }
  return n;
}

struct Tried {
  Pack pack;
  Placement placement;
};

// The pack as it is, or the nearest lighter one that these days, limits and surroundings can hold.
Tried place_or_lighten(const Pack& wanted, const Segment& segment, const Calendar& calendar,
                       const Surroundings& surroundings, int most_hard) {
  std::vector<Pack> layer{wanted};
  for (int depth = 0; depth < 12; ++depth) {
    for (const Pack& pack : layer) {
      for (const bool rehearse : {segment.rehearse, false}) {
        PlaceRequest request = request_for(segment);
        request.rehearse = rehearse;
        request.around = surroundings;
        if (calendar.hard_blocks(pack) + (rehearse ? 1 : 0) > most_hard) continue;
        Placement placement = calendar.place(pack, request);
        if (placement.outcome == Placing::done) return {pack, std::move(placement)};
        if (!segment.rehearse) break;
      }
    }
    std::vector<Pack> next;
    for (const Pack& pack : layer) {
      for (const Pack& less : lighter(pack, calendar.kinds())) {
        if (std::find(next.begin(), next.end(), less) == next.end() && next.size() < 64) next.push_back(less);
      }
    }
    layer = std::move(next);
  }
  PlaceRequest request = request_for(segment);
  request.around = surroundings;
  return {Pack{}, calendar.place(Pack{}, request)};
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

// The best lighter week; one that is too light, because nothing in it pays, is filled with what keeps the
// habit.
Pack SeasonPlanner::deload_pack(const Segment& segment, const Prices& prices, int least_minutes) {
  const Column best = search_.best(segment, prices, false);
  if (best.minutes >= least_minutes) return best.pack;
  Prices some = prices;
  for (double& price : some.s) price = std::max(price, kPriceOfHabit);
  return search_.best(segment, some, false).pack;
}

Season SeasonPlanner::schedule(const AllocationTask& task, const Allocation& allocation) {
  const Rules& rules = knowledge_.rules;
  Season season;
  season.weeks = weeks_;
  season.bound = allocation.bound;
  Laid laid;
  for (const auto& day : calendar_.days()) {
    laid.hard.push_back(day.fixed_hard);
    laid.lift.push_back(false);
    laid.intervals.push_back(false);
  }
  const auto columns = harder_first(task, allocation);
  std::vector<int>
      build_minutes;  // of this plan, as the checker sees it; before its first week the past counts
  std::uint32_t last_days = ~0U;
  constexpr int kNoWeekYet = 99;  // hard sessions: no limit
  int last_build_hard = kNoWeekYet;
  for (std::size_t w = 0; w < season.weeks.size(); ++w) {
    SeasonWeek& week = season.weeks[w];
    Segment segment = task.weeks[w];
    if (week.kept) {
      place_kept(week);
      week.column = search_.column_of(segment.kept.value_or(Pack{}), segments_[w], week.minutes);
      lay(laid, calendar_, week.first, week.days);
      if (week.phase == Phase::build && week.full) build_minutes.push_back(week.minutes);
      continue;
    }
    if (segment.count == 0 || week.phase == Phase::blocked) continue;
    int most_hard = std::min(segment.most_hard + (segment.rehearse ? 1 : 0),
                             std::max(0, ramp_limit(season.weeks, w) - week.fixed_hard));
    Pack wanted = columns[w].pack;
    const int median = median_of_last(build_minutes.empty() ? beginning_.so_far.build_minutes : build_minutes,
                                      kWeeksCompared);
    const bool deload = task.is_deload[w] && median > 0;
    if (deload) {
      week.phase = Phase::deload;
      segment = task.as_deload[w];
      segment.most_minutes = std::min(segment.most_minutes, static_cast<int>(rules.deload_most * median));
      if (week.count == 7) segment.only_days = last_days;
      segment.most_hard = std::min(segment.most_hard, std::max(0, last_build_hard - week.fixed_hard));
      most_hard = segment.most_hard;
      const std::string limits = "|d" + std::to_string(segment.only_days);
      segment.days += limits;
      segment.signature +=
          limits + "," + std::to_string(segment.most_minutes) + "," + std::to_string(segment.most_hard);
      week.deload = segment;
      wanted =
          following_
              ? lighter_common_week(segment, wanted, static_cast<int>(rules.deload_least * median) + 1)
              : deload_pack(segment, allocation.prices, static_cast<int>(rules.deload_least * median) + 1);
    }
    const Surroundings near = around(laid, segment.first, segment.count, beginning_.so_far, as_of_);
    Tried tried = place_or_lighten(wanted, segment, calendar_, near, most_hard);
    for (std::size_t i = 0; i < tried.placement.days.size(); ++i) week.days[i] = tried.placement.days[i];
    week.minutes = tried.placement.minutes;
    week.column = search_.column_of(tried.pack, segments_[w], week.minutes);
    week.hard = week.fixed_hard + calendar_.hard_blocks(tried.pack) + rehearsals_in(week.days);
    lay(laid, calendar_, week.first, week.days);
    if (week.phase == Phase::build && week.full) {
      build_minutes.push_back(week.minutes);
      // Days of a week that has slots of its own are no habit: those of the weeks before stay.
      if (!has_own_slots(week)) last_days = 0;
      for (std::size_t i = 0; i < week.days.size(); ++i) {
        if (!week.days[i].blocks.empty()) last_days |= 1U << i;
      }
      last_build_hard = week.hard;
    } else if (week.phase == Phase::build && week.open >= kOpenDaysOfAWeek && last_build_hard == kNoWeekYet) {
      last_build_hard = week.hard;  // the rest of today's week is a measure too, where there is no whole one
    }
  }
  if (build_minutes.empty()) build_minutes = beginning_.so_far.build_minutes;
  place_taper(season, build_minutes);
  finish(season);
  return season;
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
        placed.blocks.push_back({static_cast<int>(k), static_cast<int>(block.size), block.rehearsal});
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
      candidate_.now.hard_sessions.value_or(rules.hard_sessions_at_start.of(candidate_.background));
  int last = start;
  int before_last = start;
  for (std::size_t w = 0; w < week; ++w) {
    if (weeks[w].phase != Phase::build || weeks[w].open < kOpenDaysOfAWeek) continue;
    before_last = last;
    last = std::max(0, weeks[w].hard - weeks[w].tests);
  }
  return std::max(last, before_last) + rules.hard_sessions_step;
}

void SeasonPlanner::place_taper(Season& season, std::vector<int>& build_minutes) {
  if (too_late_) return;
  const Rules& rules = knowledge_.rules;
  const int all = static_cast<int>(calendar_.days().size());
  Laid laid;
  for (const auto& day : calendar_.days()) {
    laid.hard.push_back(day.fixed_hard);
    laid.lift.push_back(false);
    laid.intervals.push_back(false);
  }
  for (const auto& week : season.weeks) lay(laid, calendar_, week.first, week.days);
  Pack used;  // what the plan trains at all
  for (const auto& week : season.weeks) {
    for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
      used.kinds[k].full = std::max(used.kinds[k].full, week.column.pack.kinds[k].full);
      used.kinds[k].shorter = std::max(used.kinds[k].shorter, week.column.pack.kinds[k].shorter);
      used.kinds[k].home = std::max(used.kinds[k].home, week.column.pack.kinds[k].home);
    }
  }
  // A plan that begins in its last week or two goes on with what was trained lately.
  for (const TrainedDay& day : beginning_.so_far.days) {
    for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
      if (day.sessions.count(calendar_.kinds()[k]->id) > 0)
        used.kinds[k].shorter = std::max<std::uint8_t>(used.kinds[k].shorter, 1);
    }
  }
  int median = median_of_last(build_minutes, kWeeksCompared);
  // Weeks of the plan that hold no training leave nothing to taper from: only without any is there a guess.
  if (median == 0 && build_minutes.empty()) {
    for (const auto& week : season.weeks) median = std::max(median, week.minutes);
    if (median == 0) median = available_;
  }
  for (std::size_t w = 0; w < season.weeks.size(); ++w) {
    SeasonWeek& week = season.weeks[w];
    const int first = std::max(week.first, all - std::max(taper_days_, 7));
    const int count = week.first + week.count - first;
    if (count <= 0 || week.phase == Phase::blocked || week.kept) continue;
    int window = 0;
    for (int i = first; i < first + count; ++i) {
      const bool inside = i >= all - taper_days_;
      window += inside && !calendar_.days()[static_cast<std::size_t>(i)].blocked ? 1 : 0;
    }
    Segment segment = segment_of(week.index, first, count, 99);
    segment.rehearse = false;
    segment.most_minutes = std::min(segment.most_minutes,
                                    static_cast<int>((1.0 - rules.taper_least_cut) * median * window / 7.0));
    const int hard_now = week.hard;
    const int most =
        std::min(hard_day_limit(rules, candidate_.background, age_), ramp_limit(season.weeks, w));
    segment.most_hard = std::max(0, most - hard_now - (hard_now == 0 ? week.fixed_hard : 0));
    int trained = 0;
    for (int i = 0; i < week.count; ++i) {
      // Days before the taper may have fixed work alone.
      const bool fixed =
          week.first + i < first && calendar_.days()[static_cast<std::size_t>(week.first + i)].fixed_any;
      trained += week.days[static_cast<std::size_t>(i)].blocks.empty() && !fixed ? 0 : 1;
    }
    segment.most_training_days = std::max(0, 7 - rules.rest_days_a_week.of(candidate_.background) - trained);
    Pack pack;
    Placement best = calendar_.place(pack, request_for(segment));
    for (int round = 0; round < 2; ++round) {
      for (const std::string& family : kTaperOrder) {
        for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
          const WorkKind& kind = *calendar_.kinds()[k];
          const bool trains = used.kinds[k].full + used.kinds[k].shorter > 0;
          if (kind.family != family || !trains || (round > 0 && kind.hard)) continue;
          const int here = week.column.pack.kinds[k].full + week.column.pack.kinds[k].shorter;
          const int limit = family == "lift" ? rules.deadlifts_a_week
                                             : (family == "intervals" ? segment.most_intervals : 7);
          Pack more = pack;
          more.kinds[k].shorter += 1;
          if (here + more.kinds[k].shorter > limit || calendar_.hard_blocks(more) > segment.most_hard)
            continue;
          PlaceRequest request = request_for(segment);
          request.around = around(laid, first, count, beginning_.so_far, as_of_);
          Placement placed = calendar_.place(more, request);
          if (placed.outcome != Placing::done) continue;
          pack = more;
          best = std::move(placed);
        }
      }
    }
    for (std::size_t i = 0; i < best.days.size(); ++i) {
      week.days[static_cast<std::size_t>(first - week.first) + i] = best.days[i];
    }
    week.minutes += best.minutes;
    week.hard = (hard_now == 0 ? week.fixed_hard : hard_now) + calendar_.hard_blocks(pack);
    lay(laid, calendar_, first, best.days);
  }
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

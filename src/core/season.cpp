#include "core/season.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace backplan {
namespace {

constexpr double kBeyondAnyDose = 1e3;  // stimulus at which every dose curve has levelled off

}  // namespace

void sign(Segment& segment, const Calendar& calendar) {
  std::string& days = segment.days;
  days = fmt::format("{}|{}|{}|{}|", segment.count, segment.most_training_days, segment.rehearse,
                     segment.only_days);
  if (segment.stations) {
    for (const std::uint32_t kinds : segment.stations->kinds) days += fmt::format("{}s", kinds);
  }
  if (segment.kept) days += fmt::format("kept {}|", segment.week);
  for (const int n : segment.done) days += fmt::format("{}d", n);
  for (int i = 0; i < segment.count; ++i) {
    const auto& day = calendar.days()[static_cast<std::size_t>(segment.first + i)];
    days += fmt::format("{},{},{},{},{},{},{};", day.usable, day.allowed, day.gentle, day.closed, day.no_hard,
                        day.fixed_hard, day.fixed_any);
  }
  segment.signature =
      fmt::format("{}|{}|{}|{}|", days, segment.most_minutes, segment.most_hard, segment.most_intervals);
  for (const double c : segment.counted) segment.signature += fmt::format("{:.4f},", c);
  for (const double f : segment.fixed) segment.signature += fmt::format("{:.4f},", f);
}

SeasonPlanner::SeasonPlanner(const Candidate& candidate, const Knowledge& knowledge, Date as_of)
    : SeasonPlanner(candidate, knowledge, as_of,
                    fit_progress(candidate, knowledge.standard, knowledge.model, as_of)) {}

SeasonPlanner::SeasonPlanner(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                             std::vector<EventState> states, Beginning beginning,
                             std::shared_ptr<const DoseTables> tables)
    : candidate_(candidate),
      knowledge_(knowledge),
      as_of_(as_of),
      age_(age_on(candidate.birth_date, candidate.test_date)),
      beginning_(std::move(beginning)),
      calendar_(candidate, knowledge, as_of),
      states_(std::move(states)),
      tables_(tables ? std::move(tables) : std::make_shared<const DoseTables>(states_)),
      search_(calendar_, states_, *tables_, candidate.home_blocks) {
  for (const int minutes : candidate.week) available_ += minutes;
  // Where none of the work without kit is for this test there is nothing to do at home.
  for (const std::string& id : knowledge.rules.home_work) {
    const WorkKind* kind = knowledge.model.find_work(id);
    if (kind != nullptr && kind->home) home_minutes_ = std::max(home_minutes_, kind->home->minutes);
  }
  available_ += home_minutes_ * candidate.home_blocks;
  taper_days_ = taper_days(knowledge.rules, available_);
  too_late_ = (candidate.test_date - as_of).count() < knowledge.rules.plan_without_training_under_days &&
              !beginning_.goes_on;
  set_fixed_losses();
  lay_out_weeks();
}

const std::vector<EventValue>& SeasonPlanner::values() {
  if (!values_.empty()) return values_;
  const Category& category = *knowledge_.standard.find_category(candidate_.category);
  const ValueModel& value = knowledge_.model.value;
  for (std::size_t e = 0; e < states_.size(); ++e) {
    double most_s = 0.0;
    double most_loss = 0.0;
    for (const Segment& segment : segments_) {
      most_s += segment.counted[e] * tables_->gain(e, kBeyondAnyDose);
      most_loss += segment.counted[e] * tables_->loss(e, 0.0);
    }
    const bool own = candidate_.target.events.count(states_[e].event->id) > 0;
    const AbilityScale scale(*states_[e].scale, pass_minimum(category, *states_[e].event));
    // A point of an event that counts double in the total is worth two.
    const auto weight = knowledge_.standard.weights.find(states_[e].event->id);
    const double counts = weight == knowledge_.standard.weights.end() ? 1.0 : weight->second;
    values_.emplace_back(states_[e], scale, counts * (own ? value.own_target_weight : 1.0),
                         value.below_minimum_cost, most_s, most_loss);
  }
  return values_;
}

Dosage SeasonPlanner::holding() const {
  Dosage dosage;
  dosage.s.assign(states_.size(), 0.0);
  dosage.loss.assign(states_.size(), 0.0);
  return dosage;
}

Dosage SeasonPlanner::utmost() const {
  Dosage dosage = holding();
  for (std::size_t e = 0; e < states_.size(); ++e) {
    for (const Segment& segment : segments_)
      dosage.s[e] += segment.counted[e] * tables_->gain(e, kBeyondAnyDose);
  }
  return dosage;
}

Outlook SeasonPlanner::outlook(const Dosage& dosage) const {
  return forecast(states_, candidate_, knowledge_.standard, knowledge_.model, dosage);
}

std::vector<TotalBin> SeasonPlanner::total_bins(const Dosage& dosage) const {
  return backplan::total_bins(states_, candidate_, knowledge_.standard, knowledge_.model, dosage);
}

bool SeasonPlanner::needs_deload_choice() const {
  return hard_day_limit(knowledge_.rules, candidate_.trains_as(), age_) >=
         knowledge_.rules.deload_from_hard_sessions;
}

bool SeasonPlanner::is_empty(const SeasonWeek& week) const {
  if (week.phase != Phase::build || week.count < kDaysAWeek || candidate_.home_blocks > 0) return false;
  const auto first = calendar_.days().begin() + week.first;
  return std::none_of(first, first + week.count,
                      [](const CalendarDay& day) { return day.slot > 0 || day.blocked; });
}

bool SeasonPlanner::resets_deloads(const SeasonWeek& week) const {
  if (is_empty(week)) return true;
  const Date from = calendar_.days()[static_cast<std::size_t>(week.first)].date;
  const Date to = from + Days(week.count - 1);
  return std::any_of(candidate_.blocked.begin(), candidate_.blocked.end(), [&](const BlockedSpell& spell) {
    return spell.kind != BlockedKind::field &&
           (spell.to - spell.from).count() + 1 >= knowledge_.rules.deload_counts_from_days &&
           spell.to >= from && spell.to <= to;
  });
}

void SeasonPlanner::settle_deloads(AllocationTask& task, const std::vector<std::optional<std::size_t>>& run,
                                   RunEnds ends) const {
  const Rules& rules = knowledge_.rules;
  const int longest = rules.build_weeks_before_deload;
  const int taper_weeks = (taper_days_ + kDaysAWeek - 1) / kDaysAWeek;
  const int n = static_cast<int>(run.size());
  const int deloads = n / (longest + 1);
  int builds = n - deloads;
  int at = n;  // from the end
  for (int d = deloads; d > 0; --d) {
    int length = std::min(longest, (builds + d) / (d + 1));
    if (ends == RunEnds::before_taper && d == deloads)
      length = std::max(length, rules.no_deload_weeks_before_taper);
    at -= length + 1;
    builds -= length;
    while (at >= 0 && at < n && !run[static_cast<std::size_t>(at)]) ++at;
    if (at < 0 || at >= n) continue;
    // Where the weeks that are over leave no room for it, the taper is the rest.
    const std::size_t found = *run[static_cast<std::size_t>(at)];
    task.is_deload[found] = weeks_[found].index > taper_weeks + rules.no_deload_weeks_before_taper;
  }
}

void SeasonPlanner::mark_deloads(AllocationTask& task) const {
  std::vector<std::optional<std::size_t>> run(static_cast<std::size_t>(beginning_.so_far.build_weeks));
  const auto settle = [&](RunEnds ends) {
    settle_deloads(task, run, ends);
    run.clear();
  };
  for (std::size_t w = 0; w < weeks_.size(); ++w) {
    const SeasonWeek& week = weeks_[w];
    if (week.kept && week.phase == Phase::deload) settle(RunEnds::within);
    if (week.phase == Phase::build) run.push_back(week.kept ? std::nullopt : std::optional(w));
    if (resets_deloads(week)) settle(RunEnds::within);
    if (week.phase == Phase::taper) break;
  }
  settle(RunEnds::before_taper);
}

// Names of segments in a common week: what its own days are, and the stations. Every morning's own name is
// worked out once.
void SeasonPlanner::name_following(Segment& segment) const {
  segment.stations = following_->stations;
  segment.days += '|';
  for (const std::uint32_t kinds : segment.stations->kinds) {
    for (unsigned shift = 0; shift < 32; shift += 8)
      segment.days += static_cast<char>(kinds >> shift & 0xFFU);
  }
  segment.signature = fmt::format("common week {}", segment.week);
}

AllocationTask SeasonPlanner::task_for(int most_minutes, bool with_deloads) const {
  AllocationTask task;
  task.is_deload.assign(weeks_.size(), false);
  if (with_deloads) mark_deloads(task);
  for (std::size_t w = 0; w < weeks_.size(); ++w) {
    Segment segment = segments_[w];
    if (!segment.kept) segment.most_minutes = std::min(segment.most_minutes, most_minutes);
    if (!with_deloads && needs_deload_choice()) {
      // A rehearsal beside fixed hard work can make the week as hard as those that call for deloads.
      segment.rehearse =
          segment.rehearse && weeks_[w].fixed_hard + 1 < knowledge_.rules.deload_from_hard_sessions;
      const int fixed = weeks_[w].fixed_hard + (segment.rehearse ? 1 : 0);
      segment.most_hard =
          std::max(0, std::min(segment.most_hard, knowledge_.rules.deload_from_hard_sessions - 1 - fixed));
    }
    if (following_) name_following(segment);
    if (!following_) sign(segment, calendar_);
    Segment deload = segment;
    deload.rehearse = false;
    deload.most_minutes = static_cast<int>(knowledge_.rules.deload_most * most_minutes);
    deload.most_minutes = std::min(deload.most_minutes, segment.most_minutes);
    if (!following_) sign(deload, calendar_);
    if (following_ && segment.rehearse) deload.days += "|plain";
    task.weeks.push_back(segment);
    task.as_deload.push_back(deload);
  }
  return task;
}

// A deload is measured by the weeks before it, so the season is filled twice: first to learn how long
// and on which days its deloads may be, then with those limits. The bound holds for plans with these
// deload weeks and sizes (docs/mathematics.md, "Allocation").
Season SeasonPlanner::fill_with_deloads(AllocationTask task, const AllocationEffort& effort) {
  AllocationEffort first = effort;
  first.prove = false;
  const Season draft = schedule(task, allocate(task, values(), search_, first));
  if (!effort.prove) return draft;
  for (std::size_t w = 0; w < draft.weeks.size(); ++w) {
    if (draft.weeks[w].deload) task.as_deload[w] = *draft.weeks[w].deload;
  }
  Season proven = schedule(task, allocate(task, values(), search_, effort));
  if (draft.value > proven.value) {
    const double bound = proven.bound;
    proven = draft;
    proven.bound = bound;
  }
  return proven;
}

// A practice test is a hard day, but no session that a deload makes up for.
bool SeasonPlanner::trains_hard(const Season& season) const {
  return std::any_of(season.weeks.begin(), season.weeks.end(), [&](const SeasonWeek& week) {
    return week.phase == Phase::build && week.hard - week.tests >= knowledge_.rules.deload_from_hard_sessions;
  });
}

bool SeasonPlanner::has_own_slots(const SeasonWeek& week) const {
  const Date from = calendar_.days()[static_cast<std::size_t>(week.first)].date;
  return std::any_of(candidate_.days.begin(), candidate_.days.end(), [&](const DayOverride& own) {
    return own.date >= from && own.date < from + Days(week.count);
  });
}

bool SeasonPlanner::has_deload(const Season& season) {
  return std::any_of(season.weeks.begin(), season.weeks.end(),
                     [](const SeasonWeek& week) { return week.phase == Phase::deload; });
}

Season SeasonPlanner::fill(int most_minutes, const AllocationEffort& effort) {
  const AllocationTask gentle = task_for(most_minutes, false);
  if (!needs_deload_choice()) {
    return schedule(gentle, allocate(gentle, values(), search_, effort));
  }
  const AllocationTask hard = task_for(most_minutes, true);
  // Kept weeks may have so many hard sessions already that a deload is due whatever the rest does.
  const bool kept_hard = std::any_of(weeks_.begin(), weeks_.end(), [&](SeasonWeek week) {
    if (!week.kept) return false;
    place_kept(week);
    return week.hard >= knowledge_.rules.deload_from_hard_sessions;
  });
  if (kept_hard) return fill_with_deloads(hard, effort);
  // A season too short for a deload has no choice to make: the hard weeks include the gentle ones.
  if (std::count(hard.is_deload.begin(), hard.is_deload.end(), true) == 0) {
    return schedule(hard, allocate(hard, values(), search_, effort));
  }
  Season best = schedule(gentle, allocate(gentle, values(), search_, effort));
  Season other = fill_with_deloads(hard, effort);
  const double bound = std::max(best.bound, other.bound);
  // Where the filling stayed under the hard work that makes a deload due, its deloads would be needless.
  const bool sound = trains_hard(other) || !has_deload(other);
  // Fixed work can make a week hard whatever is planned: then there is no season without deloads.
  const bool gentle_is_hard = trains_hard(best);
  if (sound && (gentle_is_hard || other.value > best.value + 1e-9)) best = std::move(other);
  best.bound = std::max(bound, best.value);
  return best;
}

}  // namespace backplan

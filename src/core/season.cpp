#include "core/season.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace backplan {
namespace {

constexpr double kBeyondAnyDose = 1e3;   // stimulus at which every dose curve has levelled off
constexpr double kLightSpellLoss = 0.5;  // light duty loses half of what rest loses (judgement)

int open_days(const Calendar& calendar, int first, int count) {
  int open = 0;
  for (int i = first; i < first + count; ++i)
    open += calendar.days()[static_cast<std::size_t>(i)].blocked ? 0 : 1;
  return open;
}

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
    days += fmt::format("{},{},{},{},{},{};", day.usable, day.allowed, day.closed, day.no_hard,
                        day.fixed_hard, day.fixed_any);
  }
  segment.signature =
      fmt::format("{}|{}|{}|{}|", days, segment.most_minutes, segment.most_hard, segment.most_intervals);
  for (const double c : segment.counted) segment.signature += fmt::format("{:.4f},", c);
  for (const double f : segment.fixed) segment.signature += fmt::format("{:.4f},", f);
}

double fixed_loss_of(const EventState& state, const Candidate& candidate, Date as_of) {
  double net = 0.0;
  for (const BlockedSpell& spell : candidate.blocked) {
    const Date from = std::max(spell.from, as_of);
    const Date to = std::min(spell.to, candidate.test_date - Days(1));
    if (to < from) continue;
    const double days = static_cast<double>((to - from).count()) + 1.0;
    // A gap of the journal that goes on has used up its grace already.
    const double used = from == as_of ? state.gap_days : 0.0;
    const double grace = std::max(0.0, state.model->grace_days - used);
    const double lost = std::max(0.0, days - grace) / 7.0 * state.model->loss_per_week;
    const double share = spell.kind == BlockedKind::light ? kLightSpellLoss : 1.0;
    const double weeks_after = static_cast<double>((candidate.test_date - to).count()) / 7.0;
    // Regained at double rate, up to the old level (science: retraining is faster than training).
    net += std::max(0.0, share * lost - 2.0 * state.model->loss_per_week * weeks_after);
  }
  const double weeks_left = static_cast<double>((candidate.test_date - as_of).count()) / 7.0;
  const double still_lost = std::max(0.0, state.lost - 2.0 * state.model->loss_per_week * weeks_left);
  // Today's level has lost `lost` already; some of it comes back.
  return std::min(net + still_lost, state.model->loss_cap) - state.lost;
}

}  // namespace

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
  available_ += 10 * candidate.home_blocks;
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
    const AbilityScale scale(*states_[e].scale, pass_minimum(category));
    values_.emplace_back(states_[e], scale, own ? value.own_target_weight : 1.0, value.below_minimum_cost,
                         most_s, most_loss);
  }
  return values_;
}

void SeasonPlanner::set_fixed_losses() {
  for (EventState& state : states_) state.fixed_loss = fixed_loss_of(state, candidate_, as_of_);
}

void SeasonPlanner::lay_out_weeks() {
  const int all = static_cast<int>(calendar_.days().size());
  const int number = (all + 6) / 7;
  for (int w = number; w >= 1; --w) {
    SeasonWeek week;
    week.index = w;
    week.first = std::max(0, all - 7 * w);
    week.count = all - 7 * (w - 1) - week.first;
    week.open = open_days(calendar_, week.first, week.count);
    week.full = week.count == 7 && week.open == 7;
    for (int i = week.first; i < week.first + week.count; ++i) {
      week.fixed_hard += calendar_.days()[static_cast<std::size_t>(i)].fixed_hard ? 1 : 0;
    }
    for (const Date test : candidate_.diagnostics) {
      const auto at = (test - calendar_.days().front().date).count();
      week.tests += at >= week.first && at < week.first + week.count ? 1 : 0;
    }
    week.phase = week.open == 0 ? Phase::blocked : Phase::build;
    if (7 * (w - 1) < taper_days_ && week.phase != Phase::blocked) week.phase = Phase::taper;
    week.days.resize(static_cast<std::size_t>(week.count));
    const Date starts = calendar_.days()[static_cast<std::size_t>(week.first)].date;
    for (const PlannedWeek& kept : beginning_.kept) {
      if (starts < kept.starts || starts >= kept.starts + Days(kept.days_long)) continue;
      week.kept = true;
      week.phase = kept.phase;
    }
    weeks_.push_back(week);
  }
  note_ramps();
  int training_week = 0;
  for (const SeasonWeek& week : weeks_) {
    // Days of the taper are placed by rule, after the rest.
    const int until = std::min(week.first + week.count, std::max(week.first, all - taper_days_));
    const int count = too_late_ || week.index == 1 ? 0 : until - week.first;
    segments_.push_back(segment_of(week.index, week.first, count, training_week));
    if (week.phase == Phase::build && week.open >= kOpenDaysOfAWeek) ++training_week;
  }
}

Segment SeasonPlanner::segment_of(int week, int first, int count, int training_week) const {
  const Rules& rules = knowledge_.rules;
  const SeasonWeek& layout = weeks_[weeks_.size() - static_cast<std::size_t>(week)];
  Segment segment;
  segment.week = week;
  segment.first = first;
  segment.count = count;
  const int open = open_days(calendar_, first, count);
  segment.share = open / 7.0;
  int slots = 0;
  int fixed_hard = 0;
  for (int i = first; i < first + count; ++i) {
    slots += calendar_.days()[static_cast<std::size_t>(i)].slot;
    fixed_hard += calendar_.days()[static_cast<std::size_t>(i)].fixed_hard ? 1 : 0;
  }
  const double ramp = week_share_[weeks_.size() - static_cast<std::size_t>(week)];
  segment.most_minutes = static_cast<int>(std::floor(ramp * slots + 1e-9));
  if (ramp >= 1.0) segment.most_minutes += 10 * candidate_.home_blocks;
  const bool mixed = layout.phase == Phase::taper;
  const int start =
      candidate_.now.hard_sessions.value_or(rules.hard_sessions_at_start.of(candidate_.background));
  int limit = std::min(hard_day_limit(rules, candidate_.background, age_),
                       start + rules.hard_sessions_step * (training_week + 1));
  if (mixed) limit = std::max(0, limit - 1);
  segment.most_hard = std::max(0, limit - fixed_hard);
  const int rest = rules.rest_days_a_week.of(candidate_.background);
  segment.most_training_days = std::min(count, 7 - rest - (mixed ? 1 : 0));
  segment.most_intervals = rules.intervals_a_week.of(candidate_.background);
  const bool form_first = candidate_.background == Background::new_to_training && training_week < 2;
  const bool postpartum = candidate_.medical.status == MedicalStatus::postpartum;
  // A timed push-up rehearsal takes a hard session every second week; where hard days are few, every fourth.
  const int every = hard_day_limit(rules, candidate_.background, age_) >= 3 ? 2 : 4;
  segment.rehearse =
      layout.full && !mixed && !form_first && !postpartum && week % every == 0 && segment.most_hard >= 2;
  if (segment.rehearse) segment.most_hard -= 1;
  for (const EventState& state : states_) {
    int counted = 0;
    for (int i = first; i < first + count; ++i) {
      const auto& day = calendar_.days()[static_cast<std::size_t>(i)];
      const auto to_test = (candidate_.test_date - day.date).count();
      if (!day.blocked && to_test > state.model->earns_nothing_days) ++counted;
    }
    segment.counted.push_back(counted / 7.0);
  }
  segment.fixed.assign(calendar_.kinds().size(), 0.0);
  for (int i = first; i < first + count; ++i) {
    const auto& day = calendar_.days()[static_cast<std::size_t>(i)];
    if (day.blocked) continue;
    for (const FixedWork& work : candidate_.fixed) {
      if (work.weekday != weekday_index(day.date)) continue;
      const FixedKind* fixed = knowledge_.model.find_fixed(work.work);
      for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
        const WorkKind& kind = *calendar_.kinds()[k];
        if (fixed != nullptr && fixed->counts_as == kind.id)
          segment.fixed[k] += fixed->stimulus_per_minute * work.minutes;
        if (fixed == nullptr && work.work == kind.id)
          segment.fixed[k] += kind.full.stimulus * work.minutes / kind.full.minutes;
      }
    }
  }
  limit_by_done(segment);
  if (following_) name_following(segment);
  if (!following_) sign(segment, calendar_);
  return segment;
}

// The week of today goes on from what it has had; kept days are as they are.
void SeasonPlanner::limit_by_done(Segment& segment) const {
  const SeasonWeek& week = weeks_[weeks_.size() - static_cast<std::size_t>(segment.week)];
  if (week.kept) {
    segment.kept = kept_pack(segment.first, segment.count);
    segment.most_minutes = 0;
    for (int i = segment.first; i < segment.first + segment.count; ++i) {
      const PlannedDay* day = kept_day(calendar_.days()[static_cast<std::size_t>(i)].date);
      if (day == nullptr) continue;
      segment.most_minutes += day->session_minutes;
      for (const Block& block : day->blocks)
        segment.most_minutes += block.size == BlockSize::home ? block.minutes : 0;
    }
    return;
  }
  const Date starts = candidate_.test_date - Days(7 * segment.week);
  if (starts >= as_of_) return;
  segment.done.assign(calendar_.kinds().size(), 0);
  int trained = 0;
  for (const TrainedDay& day : beginning_.so_far.days) {
    if (day.date < starts) continue;
    ++trained;
    if (day.hard) segment.most_hard = std::max(0, segment.most_hard - 1);
    if (day.intervals) segment.most_intervals = std::max(0, segment.most_intervals - 1);
    for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
      const auto found = day.sessions.find(calendar_.kinds()[k]->id);
      if (found != day.sessions.end()) segment.done[k] += found->second;
    }
  }
  const int rest = knowledge_.rules.rest_days_a_week.of(candidate_.background);
  segment.most_training_days = std::clamp(7 - rest - trained, 0, segment.most_training_days);
}

const PlannedDay* SeasonPlanner::kept_day(Date date) const {
  for (const PlannedWeek& week : beginning_.kept) {
    for (const PlannedDay& day : week.days) {
      if (day.date == date) return &day;
    }
  }
  return nullptr;
}

Pack SeasonPlanner::kept_pack(int first, int count) const {
  Pack pack;
  for (int i = first; i < first + count; ++i) {
    const PlannedDay* day = kept_day(calendar_.days()[static_cast<std::size_t>(i)].date);
    if (day == nullptr) continue;
    for (const Block& block : day->blocks) {
      for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
        if (calendar_.kinds()[k]->id != block.work) continue;
        KindCount& n = pack.kinds[k];
        ++(block.size == BlockSize::full ? n.full : block.size == BlockSize::shorter ? n.shorter : n.home);
      }
    }
  }
  return pack;
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
  return hard_day_limit(knowledge_.rules, candidate_.background, age_) >=
         knowledge_.rules.deload_from_hard_sessions;
}

void SeasonPlanner::mark_deloads(AllocationTask& task) const {
  const Rules& rules = knowledge_.rules;
  const int taper_weeks = (taper_days_ + 6) / 7;
  const auto resets = [&](const SeasonWeek& week) {
    return std::any_of(candidate_.blocked.begin(), candidate_.blocked.end(), [&](const BlockedSpell& spell) {
      const Date from = calendar_.days()[static_cast<std::size_t>(week.first)].date;
      const Date to = from + Days(week.count - 1);
      return spell.kind != BlockedKind::field &&
             (spell.to - spell.from).count() + 1 >= rules.deload_counts_from_days && spell.to >= from &&
             spell.to <= to;
    });
  };
  const int longest = rules.build_weeks_before_deload;
  constexpr std::size_t kFixed = static_cast<std::size_t>(-1);  // cannot be a deload any more
  std::vector<std::size_t> run(static_cast<std::size_t>(beginning_.so_far.build_weeks),
                               kFixed);  // build weeks
  const auto settle = [&](bool before_taper) {
    const int n = static_cast<int>(run.size());
    const int deloads = n / (longest + 1);
    int builds = n - deloads;
    int at = n;  // from the end
    for (int d = deloads; d > 0; --d) {
      int length = std::min(longest, (builds + d) / (d + 1));
      if (before_taper && d == deloads) length = std::max(length, rules.no_deload_weeks_before_taper);
      at -= length + 1;
      builds -= length;
      while (at >= 0 && at < n && run[static_cast<std::size_t>(at)] == kFixed) ++at;
      if (at < 0 || at >= n) continue;
      // Where the weeks that are over leave no room for it, the taper is the rest.
      const std::size_t found = run[static_cast<std::size_t>(at)];
      task.is_deload[found] = weeks_[found].index > taper_weeks + rules.no_deload_weeks_before_taper;
    }
    run.clear();
  };
  for (std::size_t w = 0; w < weeks_.size(); ++w) {
    const SeasonWeek& week = weeks_[w];
    task.may_deload[w] = week.full && !week.kept && week.phase == Phase::build &&
                         week.index > taper_weeks + rules.no_deload_weeks_before_taper;
    if (week.kept && week.phase == Phase::deload) settle(false);
    if (week.phase == Phase::build) run.push_back(week.kept ? kFixed : w);
    if (resets(week)) settle(false);
    if (week.phase == Phase::taper) break;
  }
  settle(true);
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
  task.may_deload.assign(weeks_.size(), false);
  if (with_deloads) mark_deloads(task);
  for (std::size_t w = 0; w < weeks_.size(); ++w) {
    Segment segment = segments_[w];
    if (!segment.kept) segment.most_minutes = std::min(segment.most_minutes, most_minutes);
    if (!with_deloads && needs_deload_choice()) {
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
// deload weeks and sizes (docs/mathematics.md, "Why the bound is true").
Season SeasonPlanner::fill_with_deloads(AllocationTask task, const AllocationEffort& effort) {
  AllocationEffort first = effort;
  first.prove = false;
  const Season draft = schedule(task, allocate(task, values(), search_, first));
  if (!effort.prove) return draft;
  task.may_deload = task.is_deload;
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

bool SeasonPlanner::trains_hard(const Season& season) const {
  return std::any_of(season.weeks.begin(), season.weeks.end(), [&](const SeasonWeek& week) {
    return week.phase == Phase::build && week.hard >= knowledge_.rules.deload_from_hard_sessions;
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
  if (sound && other.value > best.value + 1e-9) best = std::move(other);
  best.bound = std::max(bound, best.value);
  return best;
}

}  // namespace backplan

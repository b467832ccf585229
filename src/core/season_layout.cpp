// What each week may hold, before anything is put into it.
#include <algorithm>
#include <cmath>
#include <optional>

#include "core/season.hpp"

namespace backplan {
namespace {

constexpr double kLightSpellLoss = 0.5;  // light duty loses half of what rest loses (judgement)
constexpr int kWeeksBetweenRehearsals = 2, kHardDaysForRehearsals = 3;  // (judgement)

int open_days(const Calendar& calendar, int first, int count) {
  int open = 0;
  for (int i = first; i < first + count; ++i)
    open += calendar.days()[static_cast<std::size_t>(i)].blocked ? 0 : 1;
  return open;
}

// By the morning of the day `on`, at most the test day: a spell that goes on then has cost what it has until
// the day before.
double loss_by(const EventState& state, const Candidate& candidate, Date as_of, Date on) {
  double net = 0.0;
  for (const BlockedSpell& spell : candidate.blocked) {
    const Date from = std::max(spell.from, as_of);
    const Date to = std::min(spell.to, on - Days(1));
    if (to < from) continue;
    const double days = static_cast<double>((to - from).count()) + 1.0;
    // A gap of the journal that goes on has used up its grace already.
    const double used = from == as_of ? state.gap_days : 0.0;
    const double grace = std::max(0.0, state.model->grace_days - used);
    const double lost = std::max(0.0, days - grace) / 7.0 * state.model->loss_per_week;
    const double share = spell.kind == BlockedKind::light ? kLightSpellLoss : 1.0;
    const double weeks_after = static_cast<double>((on - to).count() - 1) / 7.0;
    // Regained at double rate, up to the old level (science: retraining is faster than training).
    net += std::max(0.0, share * lost - 2.0 * state.model->loss_per_week * weeks_after);
  }
  const double weeks_since = static_cast<double>((on - as_of).count()) / 7.0;
  const double still_lost = std::max(0.0, state.lost - 2.0 * state.model->loss_per_week * weeks_since);
  // Today's level has lost `lost` already; some of it comes back.
  return std::min(net + still_lost, state.model->loss_cap) - state.lost;
}

}  // namespace

void SeasonPlanner::set_fixed_losses() {
  for (EventState& state : states_)
    state.fixed_loss = loss_by(state, candidate_, as_of_, candidate_.test_date);
}

double SeasonPlanner::gap_loss(std::size_t event, Date on) const {
  return loss_by(states_[event], candidate_, as_of_, on);
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

// What the days of a span hold before anything is planned.
struct SeasonPlanner::SpanFacts {
  int slots = 0;                  // minutes
  int fixed = 0, fixed_hard = 0;  // days
  bool press_returns = false;     // on some day, after weeks without it
};

SeasonPlanner::SpanFacts SeasonPlanner::facts_of(int first, int count) const {
  SpanFacts facts;
  for (int i = first; i < first + count; ++i) {
    const CalendarDay& day = calendar_.days()[static_cast<std::size_t>(i)];
    facts.slots += day.slot;
    facts.fixed += day.fixed_any ? 1 : 0;
    facts.fixed_hard += day.fixed_hard ? 1 : 0;
    for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
      if (calendar_.traits(static_cast<int>(k)).press && (day.gentle >> k & 1U) != 0)
        facts.press_returns = true;
    }
  }
  return facts;
}

Segment SeasonPlanner::segment_of(int week, int first, int count, int training_week) const {
  const SeasonWeek& layout = weeks_[weeks_.size() - static_cast<std::size_t>(week)];
  Segment segment;
  segment.week = week;
  segment.first = first;
  segment.count = count;
  segment.share = open_days(calendar_, first, count) / 7.0;
  const SpanFacts here = facts_of(first, count);
  std::optional<SpanFacts> taper;  // the days of it in a week that ends in it
  if (layout.phase == Phase::taper)
    taper = facts_of(first + count, layout.first + layout.count - first - count);
  limit_minutes(segment, here);
  limit_days(segment, here, taper ? &*taper : nullptr, training_week);
  segment.rehearse = layout.full && !taper && !here.press_returns && wants_rehearsal(segment, training_week);
  if (segment.rehearse) segment.most_hard -= 1;
  count_weeks(segment);
  add_fixed_work(segment);
  limit_by_done(segment);
  if (following_) name_following(segment);
  if (!following_) sign(segment, calendar_);
  return segment;
}

void SeasonPlanner::limit_minutes(Segment& segment, const SpanFacts& here) const {
  const double ramp = week_share_[weeks_.size() - static_cast<std::size_t>(segment.week)];
  segment.most_minutes = static_cast<int>(std::floor(ramp * here.slots + 1e-9));
  if (ramp >= 1.0) segment.most_minutes += home_minutes_ * candidate_.home_blocks;
}

void SeasonPlanner::limit_days(Segment& segment, const SpanFacts& here, const SpanFacts* taper,
                               int training_week) const {
  const Rules& rules = knowledge_.rules;
  const Background background = candidate_.trains_as();
  const int start = candidate_.now.hard_sessions.value_or(rules.hard_sessions_at_start.of(background));
  int hard = std::min(hard_day_limit(rules, background, age_),
                      start + rules.hard_sessions_step * (training_week + 1));
  int days = kDaysAWeek - rules.rest_days_a_week.of(background);
  // The fixed work of a week that ends in the taper leaves at least a day and a hard one for the taper
  // itself.
  if (taper != nullptr) {
    hard = std::max(0, hard - std::max(1, taper->fixed_hard));
    days -= std::max(1, taper->fixed);
  }
  segment.most_hard = std::max(0, hard - here.fixed_hard);
  segment.most_training_days = std::clamp(days, 0, segment.count);
  segment.most_intervals = rules.intervals_a_week.of(background);
}

// A timed push-up rehearsal takes a hard session every second week; where hard days are few, every fourth.
bool SeasonPlanner::wants_rehearsal(const Segment& segment, int training_week) const {
  const Background background = candidate_.trains_as();
  const bool form_first = background == Background::new_to_training && training_week < kFormFirstWeeks;
  const bool postpartum = candidate_.medical.status == MedicalStatus::postpartum;
  const bool often = hard_day_limit(knowledge_.rules, background, age_) >= kHardDaysForRehearsals;
  const int every = often ? kWeeksBetweenRehearsals : 2 * kWeeksBetweenRehearsals;
  return !form_first && !postpartum && segment.week % every == 0 && segment.most_hard >= 2;
}

// The days that count for each event, in weeks: not blocked, and early enough to earn something.
void SeasonPlanner::count_weeks(Segment& segment) const {
  for (const EventState& state : states_) {
    int counted = 0;
    for (int i = segment.first; i < segment.first + segment.count; ++i) {
      const auto& day = calendar_.days()[static_cast<std::size_t>(i)];
      const auto to_test = (candidate_.test_date - day.date).count();
      if (!day.blocked && to_test > state.model->earns_nothing_days) ++counted;
    }
    segment.counted.push_back(counted / 7.0);
  }
}

// The dose that fixed work brings to each kind.
void SeasonPlanner::add_fixed_work(Segment& segment) const {
  segment.fixed.assign(calendar_.kinds().size(), 0.0);
  for (int i = segment.first; i < segment.first + segment.count; ++i) {
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
  const int rest = knowledge_.rules.rest_days_a_week.of(candidate_.trains_as());
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
        ++pack.kinds[k].of(block.size);
      }
    }
  }
  return pack;
}

}  // namespace backplan

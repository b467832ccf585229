#include "core/dose_history.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <variant>

#include "backplan/units.hpp"

namespace backplan {
namespace {

// However long a session was, it counts for at most one and a half full blocks: what comes after that is
// mostly fatigue (judgement; the dose curve flattens a week's sum, not a single day).
constexpr double kMostOfAFullBlock = 1.5;
// Rounding of a week's sum at exactly the keep dose is no shortfall.
constexpr double kNoShortfall = 1e-9;
constexpr double kRegainRate = 2.0;  // of the rate of loss: docs/mathematics.md, "Blocked spells"
constexpr double kSecondsInMinute = 60.0;

using PlanByDate = std::map<Date, const PlannedDay*>;

PlanByDate planned_days(const History& history) {
  PlanByDate out;
  if (!history.plan) return out;
  for (const PlannedWeek& week : history.plan->weeks) {
    for (const PlannedDay& day : week.days) out[day.date] = &day;
  }
  return out;
}

// Stimulus of so many minutes of a kind: in proportion up to the short block, on a straight line from there
// to the full one, in proportion beyond, up to the cap.
double stimulus_of(const WorkKind& kind, double minutes) {
  const BlockShape& full = kind.full;
  const BlockShape& part = kind.shorter;
  if (minutes <= part.minutes) return part.stimulus * minutes / part.minutes;
  if (minutes < full.minutes) {
    const double along = (minutes - part.minutes) / static_cast<double>(full.minutes - part.minutes);
    return part.stimulus + along * (full.stimulus - part.stimulus);
  }
  return full.stimulus * std::min(kMostOfAFullBlock, minutes / full.minutes);
}

const BlockShape& shape_of(const WorkKind& kind, BlockSize size) {
  const BlockShape* shape = kind.shape(size);
  return shape == nullptr ? kind.full : *shape;
}

const FixedKind* fixed_by_name(const Model& model, const std::string& name) {
  const auto found = std::find_if(model.fixed.begin(), model.fixed.end(),
                                  [&](const FixedKind& kind) { return kind.name == name; });
  return found == model.fixed.end() ? nullptr : &*found;
}

class DayReader {
 public:
  DayReader(const Model& model, const PlannedDay* planned) : model_(model), planned_(planned) {}

  void add(const WorkDone& work) {
    if (const WorkKind* kind = model_.find_work(work.work)) add_kind(work, *kind);
    if (const FixedKind* kind = model_.find_fixed(work.work)) add_fixed(work, *kind);
  }

  // The day as planned, at the share that counts for days nobody wrote about.
  void assume_planned() {
    const double share = model_.unlogged_day_share;
    for (const Block& block : planned_->blocks) {
      const WorkKind* kind = model_.find_work(block.work);
      if (kind == nullptr) continue;
      day_.stimulus[kind->id] += share * shape_of(*kind, block.size).stimulus;
      day_.minutes += share * block.minutes;
      day_.hard = day_.hard || kind->hard || block.rehearsal;
      if (block.continuous_run) day_.longest_run = std::max(day_.longest_run, share * *block.continuous_run);
    }
    const FixedKind* fixed = fixed_by_name(model_, planned_->fixed);
    if (fixed == nullptr) return;
    day_.stimulus[fixed->counts_as] += share * fixed->stimulus_per_minute * planned_->fixed_minutes;
    day_.minutes += share * planned_->fixed_minutes;
    day_.hard = day_.hard || fixed->is_hard(planned_->fixed_minutes, planned_->fixed_distance);
  }

  // Two entries of one kind on one day share the cap.
  [[nodiscard]] DayDone result() const {
    DayDone out = day_;
    for (auto& [id, stimulus] : out.stimulus) {
      const WorkKind* kind = model_.find_work(id);
      if (fixed_.count(id) == 0 && kind != nullptr) {
        stimulus = std::min(stimulus, kMostOfAFullBlock * kind->full.stimulus);
      }
    }
    return out;
  }

 private:
  [[nodiscard]] double minutes_of(const WorkDone& work, const WorkKind& kind) const {
    if (work.minutes) return *work.minutes;
    if (planned_ != nullptr) {
      for (const Block& block : planned_->blocks) {
        if (block.work == kind.id) return block.minutes;
      }
    }
    // A run that was only timed came with at least what a short block has around it.
    if (kind.running && work.time) {
      return std::max<double>(kind.shorter.minutes, work.time->value.value() / kSecondsInMinute);
    }
    return kind.full.minutes;
  }

  void add_kind(const WorkDone& work, const WorkKind& kind) {
    const double minutes = minutes_of(work, kind);
    day_.stimulus[kind.id] += stimulus_of(kind, minutes);
    day_.minutes += minutes;
    day_.hard = day_.hard || kind.hard || work.hard;
    if (kind.running && work.distance) {
      day_.longest_run = std::max(day_.longest_run, work.distance->value);
    }
  }

  void add_fixed(const WorkDone& work, const FixedKind& kind) {
    double minutes = work.minutes ? *work.minutes : kUsualFixedMinutes;
    if (!work.minutes && planned_ != nullptr && planned_->fixed == kind.name)
      minutes = planned_->fixed_minutes;
    day_.stimulus[kind.counts_as] += kind.stimulus_per_minute * minutes;
    fixed_.insert(kind.counts_as);
    day_.minutes += minutes;
    const auto distance = work.distance ? std::optional<Metres>(work.distance->value) : std::nullopt;
    day_.hard = day_.hard || work.hard || kind.is_hard(minutes, distance);
    if (kind.running && distance) day_.longest_run = std::max(day_.longest_run, *distance);
  }

  const Model& model_;
  const PlannedDay* planned_;
  DayDone day_;
  std::set<std::string> fixed_;  // kinds that fixed work added to: no cap
};

double stimulus_for(const DayDone& day, const Model& model, const EventModel& event) {
  double sum = 0.0;
  for (const auto& [id, stimulus] : day.stimulus) {
    const WorkKind* kind = model.find_work(id);
    if (kind == nullptr) continue;
    const auto found = kind->transfer.find(event.id);
    if (found != kind->transfer.end()) sum += found->second * stimulus;
  }
  return sum;
}

// Loss day by day: none in the grace of a gap, then the event's rate, up to the cap; regained at double rate
// once enough is done again.
class LossClock {
 public:
  explicit LossClock(const EventModel& event) : event_(event) {}

  // One more day: how far the week up to it falls short (0 to 1), and whether it fed the event at all.
  void pass(double shortfall, bool fed) {
    unfed_ = fed ? 0.0 : unfed_ + 1.0;
    const double rate = event_.loss_per_week / kDaysAWeek;
    if (shortfall <= kNoShortfall) {
      short_ = 0.0;
      loss_ = std::max(0.0, loss_ - kRegainRate * rate);
      return;
    }
    // The week behind still holds old work when a gap begins, so a gap counts from its last work.
    short_ = std::max(short_ + 1.0, unfed_);
    const double counts = std::clamp(short_ - event_.grace_days, 0.0, 1.0);
    loss_ = std::min(event_.loss_cap, loss_ + rate * shortfall * counts);
  }

  [[nodiscard]] double loss() const { return loss_; }
  [[nodiscard]] double gap_days() const { return short_; }

 private:
  const EventModel& event_;
  double unfed_ = 0.0, short_ = 0.0, loss_ = 0.0;
};

}  // namespace

std::vector<DayDone> days_done(const History& history, const Model& model, Date as_of) {
  std::vector<DayDone> out;
  if (!history.begins || *history.begins >= as_of) return out;
  const auto planned = planned_days(history);
  std::map<Date, std::vector<const WorkDone*>> work;
  std::set<Date> told;  // logged or marked missed
  for (const Done& done : history.entries) {
    if (const auto* one = std::get_if<WorkDone>(&done.what)) work[done.date].push_back(one);
    if (std::holds_alternative<WorkDone>(done.what) || std::holds_alternative<Missed>(done.what)) {
      told.insert(done.date);
    }
  }
  for (Date date = *history.begins; date < as_of; date += Days(1)) {
    const auto plan = planned.find(date);
    DayReader reader(model, plan == planned.end() ? nullptr : plan->second);
    for (const WorkDone* one : work[date]) reader.add(*one);
    if (plan != planned.end() && told.count(date) == 0) reader.assume_planned();
    out.push_back(reader.result());
  }
  return out;
}

// A day adds a seventh of what the week up to it adds: the sum over a steady week is the week's own, and no
// day of the calendar is special.
DoseHistory::DoseHistory(const std::vector<DayDone>& days, Date begins, const Model& model,
                         const EventModel& event, const Dose& dose)
    : begins_(begins), s_{0.0}, loss_{0.0} {
  const DoseCurve curve(dose);
  LossClock clock(event);
  std::vector<double> u;
  for (std::size_t i = 0; i < days.size(); ++i) {
    u.push_back(stimulus_for(days[i], model, event));
    const int before = std::max(0, kDaysAWeek - 1 - static_cast<int>(i));
    double week = before * dose.keep / kDaysAWeek;
    for (std::size_t j = i + 1 - std::min<std::size_t>(i + 1, kDaysAWeek); j <= i; ++j) week += u[j];
    s_.push_back(s_.back() + curve.gain(week) / kDaysAWeek);
    clock.pass(curve.shortfall(week), u.back() > 0.0);
    loss_.push_back(clock.loss());
  }
  gap_days_ = clock.gap_days();
}

double DoseHistory::at(const std::vector<double>& values, Date begins, Date morning) {
  if (values.empty()) return 0.0;
  const auto days = (morning - begins).count();
  if (days <= 0) return values.front();
  return values[std::min(static_cast<std::size_t>(days), values.size() - 1)];
}

double DoseHistory::s_on(Date morning) const { return at(s_, begins_, morning); }
double DoseHistory::loss_on(Date morning) const { return at(loss_, begins_, morning); }

}  // namespace backplan

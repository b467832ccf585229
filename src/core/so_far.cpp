#include "core/so_far.hpp"

#include <algorithm>

#include "core/dose_history.hpp"

namespace backplan {
namespace {

constexpr int kDaysThatMatter = 14;  // rules look back at most two weeks

bool is_hard_fixed(const WorkDone& work, const FixedKind& kind) {
  if (work.distance) return kind.is_hard(0.0, work.distance->value);
  return kind.is_hard(work.minutes.value_or(kUsualFixedMinutes), std::nullopt);
}

void add_work(TrainedDay& day, const WorkDone& work, const Model& model) {
  day.hard = day.hard || work.hard;
  if (const FixedKind* fixed = model.find_fixed(work.work))
    day.hard = day.hard || is_hard_fixed(work, *fixed);
  const WorkKind* kind = model.find_work(work.work);
  if (kind == nullptr) return;
  day.hard = day.hard || kind->hard;
  day.lift = day.lift || kind->family == "lift";
  day.intervals = day.intervals || kind->family == "intervals";
  ++day.sessions[kind->id];
}

TrainedDay& day_of(std::vector<TrainedDay>& days, Date date) {
  const auto at = std::lower_bound(days.begin(), days.end(), date,
                                   [](const TrainedDay& day, Date wanted) { return day.date < wanted; });
  if (at != days.end() && at->date == date) return *at;
  return *days.insert(at, TrainedDay{date, false, false, false, {}});
}

// The weeks of the old plan that are over, the latest first, as long as they were build weeks.
void count_build_weeks(SoFar& out, const Plan& plan, Date start) {
  for (auto week = plan.weeks.rbegin(); week != plan.weeks.rend(); ++week) {
    if (week->starts + Days(week->days_long) > start) continue;
    if (week->phase != Phase::build) return;
    ++out.build_weeks;
    out.build_minutes.insert(out.build_minutes.begin(), week->minutes);
  }
}

}  // namespace

const TrainedDay* SoFar::on(Date date) const {
  const auto found =
      std::find_if(days.begin(), days.end(), [&](const TrainedDay& day) { return day.date == date; });
  return found == days.end() ? nullptr : &*found;
}

SoFar so_far_of(const History& history, const Model& model, Date as_of, Date start) {
  SoFar out;
  for (const Done& done : history.entries) {
    if (done.date >= as_of || done.date < as_of - Days(kDaysThatMatter)) continue;
    if (const auto* work = std::get_if<WorkDone>(&done.what))
      add_work(day_of(out.days, done.date), *work, model);
    // A test of any kind is a hard day.
    if (std::holds_alternative<ResultDone>(done.what)) day_of(out.days, done.date).hard = true;
  }
  if (history.plan && !history.empty()) count_build_weeks(out, *history.plan, start);
  return out;
}

}  // namespace backplan

#include "backplan/replan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "backplan/check.hpp"
#include "backplan/numeric.hpp"
#include "core/replan_changes.hpp"
#include "core/replan_days.hpp"

namespace backplan {
namespace {

constexpr int kDaysKept = 14;   // the week of today and, near its end, the next
constexpr int kStallDays = 21;  // three weeks under the lower edge suggest another way
constexpr int kStallSpan = 14;  // from the first to the last of the readings
constexpr int kStallReadings = 3;

// What the candidate or the standard has changed since the old plan.
std::vector<std::string> changed_terms(const Candidate& candidate, const Knowledge& knowledge,
                                       const Plan& old, Date as_of) {
  std::vector<std::string> out;
  if (old.test_date != candidate.test_date && old.test_date <= as_of) {
    out.push_back(fmt::format("the test of {} is over, the next one is on {}: go again, from today's levels",
                              date_words_with_year(old.test_date),
                              date_words_with_year(candidate.test_date)));
  } else if (old.test_date != candidate.test_date) {
    const bool later = old.test_date < candidate.test_date;
    out.push_back(fmt::format("the test has moved from {} to {}: {}", date_words_with_year(old.test_date),
                              date_words_with_year(candidate.test_date),
                              later ? "hold what there is, then build again" : "less time to build"));
  }
  if (old.standard != knowledge.standard.id || old.standard_hash != knowledge.standard.content_hash ||
      old.category != candidate.category) {
    out.push_back("the standard, its tables or the category have changed");
  }
  if (old.model_hash != defaults_hash(knowledge.model, knowledge.rules))
    out.push_back("the defaults have changed");
  if (old.target != candidate.target) out.push_back("the target has changed");
  return out;
}

// Work of the days that would stay which a profile, a pregnancy or the candidate has taken off since.
std::vector<std::string> work_taken_off(const Candidate& candidate, const Knowledge& knowledge,
                                        const Plan& old, Date as_of) {
  std::vector<std::string> out;
  for (Date date = as_of; date < as_of + Days(kDaysKept); date += Days(1)) {
    const PlannedDay* day = day_on(old, date);
    if (day == nullptr) continue;
    for (const WorkOff& off : work_off(candidate, {}, knowledge.model, knowledge.rules.pain, date)) {
      const bool planned = std::any_of(day->blocks.begin(), day->blocks.end(),
                                       [&](const Block& block) { return block.work == off.work; });
      const std::string reason =
          fmt::format("{} off: {}", knowledge.model.find_work(off.work)->name, off.why);
      if (planned && std::count(out.begin(), out.end(), reason) == 0) out.push_back(reason);
    }
  }
  return out;
}

std::vector<std::string> lost_reasons(const History& history, const Plan& old, const Model& model,
                                      Date as_of) {
  const LostDays lost = lost_days(history, old, as_of);
  if (lost.all() < kLostDays) return {};
  std::string text = lost_words(lost, model.unlogged_day_share);
  if (lost.unlogged > 0)
    text += "; `backplan log missed --date DATE` tells of a day on which nothing was done";
  return {text};
}

std::vector<std::string> surprising_levels(const std::vector<FitReport>& learnt, const Plan& old,
                                           const Standard& standard, Date as_of) {
  std::vector<std::string> out;
  for (const FitReport& report : learnt) {
    const auto expected = expected_on(old, report.event, as_of);
    const Event* event = standard.find_event(report.event);
    if (!expected || !report.measured || event == nullptr) continue;
    const double low = std::min(report.now_low80, report.now_high80);
    const double high = std::max(report.now_low80, report.now_high80);
    if (*expected >= low && *expected <= high) continue;
    const bool better = (report.now_result > *expected) == (event->direction == Direction::more_is_better);
    out.push_back(
        fmt::format("{}: {} than the plan expected by now", event->name, better ? "better" : "worse"));
  }
  return out;
}

std::vector<std::string> reasons_for(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                                     const History& history, const Replan& found) {
  const Plan& old = *history.plan;
  std::vector<std::string> out = changed_terms(candidate, knowledge, old, as_of);
  const auto add = [&](const std::vector<std::string>& more) {
    out.insert(out.end(), more.begin(), more.end());
  };
  for (const PainStop& stop : found.stops)
    out.push_back(fmt::format("pain ({}): work is off until it is gone", stop.region));
  add(work_taken_off(candidate, knowledge, old, as_of));
  add(lost_reasons(history, old, knowledge.model, as_of));
  add(surprising_levels(found.learnt, old, knowledge.standard, as_of));
  std::set<Date> unplanned;
  for (const Done& done : history.entries) {
    const auto* work = std::get_if<WorkDone>(&done.what);
    if (work == nullptr || done.date >= as_of || done.date < as_of - Days(2)) continue;
    const WorkKind* kind = knowledge.model.find_work(work->work);
    const bool hard = work->hard || (kind != nullptr && kind->hard);
    const PlannedDay* planned = day_on(old, done.date);
    const bool expected =
        planned != nullptr &&
        std::any_of(planned->blocks.begin(), planned->blocks.end(), [&](const Block& block) {
          const WorkKind* other = knowledge.model.find_work(block.work);
          return block.rehearsal || (other != nullptr && other->hard);
        });
    if (hard && !expected) unplanned.insert(done.date);
  }
  for (const Date date : unplanned)
    out.push_back(fmt::format("hard work on {} that was not planned", date_words(date)));
  return out;
}

std::vector<Stall> stalls_in(const History& history, const Knowledge& knowledge, Date as_of) {
  const Plan& old = *history.plan;
  struct Low {
    int readings = 0;
    bool all_low = true;
    Date first, last;
  };
  std::map<std::string, Low> by_event;
  for (const Done& done : history.entries) {
    if (done.date < as_of - Days(kStallDays) || done.date > as_of) continue;
    const auto reading = evidence_of(done, knowledge.standard, knowledge.model);
    if (!reading || reading->lower_bound) continue;
    const auto expected = expected_on(old, reading->event, done.date);
    if (!expected) continue;
    const Event& event = *knowledge.standard.find_event(reading->event);
    Low& low = by_event[reading->event];
    if (low.readings == 0) low.first = low.last = done.date;
    low.first = std::min(low.first, done.date);
    low.last = std::max(low.last, done.date);
    ++low.readings;
    low.all_low =
        low.all_low && reading->v < ability_of(*expected, event.direction) - numeric::kZ80 * reading->sd;
  }
  std::vector<Stall> out;
  for (const Event& event : knowledge.standard.events) {
    const auto found = by_event.find(event.id);
    if (found == by_event.end() || !found->second.all_low || found->second.readings < kStallReadings)
      continue;
    if ((found->second.last - found->second.first).count() < kStallSpan) continue;
    Stall stall{event.id, found->second.readings, found->second.first, {}};
    for (const WorkKind& kind : knowledge.model.work) {
      const auto share = kind.transfer.find(event.model_event);
      if (share != kind.transfer.end() && share->second >= kFeeds) stall.instead.push_back(kind.id);
    }
    out.push_back(std::move(stall));
  }
  return out;
}

// The week of `date` in a plan that counts back from `test`.
int week_index(Date date, Date test) { return static_cast<int>((test - date).count() + 6) / 7; }

// A week of the new counting that begins on a day of an old one.
PlannedWeek begun_on(Date date, int index, const PlannedWeek& week) {
  PlannedWeek begun = week;
  begun.index = index;
  begun.starts = date;
  begun.days_long = 0;
  begun.minutes = 0;
  begun.provisional = false;
  begun.days.clear();
  return begun;
}

void add_day(const PlannedDay* day, const PlannedWeek& of, PlannedWeek& into) {
  ++into.days_long;
  into.phase = of.phase;
  into.milestones = of.milestones;
  if (day == nullptr) return;
  into.days.push_back(*day);
  into.minutes += day->session_minutes;
  for (const Block& block : day->blocks) into.minutes += block.size == BlockSize::home ? block.minutes : 0;
}

}  // namespace

Plan with_past(const Plan& ahead, const Plan& old) {
  Plan out = ahead;
  std::vector<PlannedWeek> past;
  for (const PlannedWeek& week : old.weeks) {
    for (int i = 0; i < week.days_long; ++i) {
      const Date date = week.starts + Days(i);
      if (date >= ahead.as_of) break;
      const int index = week_index(date, ahead.test_date);
      if (past.empty() || past.back().index != index) past.push_back(begun_on(date, index, week));
      add_day(day_on(old, date), week, past.back());
    }
  }
  if (!past.empty() && !out.weeks.empty() && past.back().index == out.weeks.front().index) {
    PlannedWeek& today = out.weeks.front();
    const PlannedWeek& begun = past.back();
    today.starts = begun.starts;
    today.days_long += begun.days_long;
    today.minutes += begun.minutes;
    today.days.insert(today.days.begin(), begun.days.begin(), begun.days.end());
    past.pop_back();
  }
  out.weeks.insert(out.weeks.begin(), past.begin(), past.end());
  return out;
}

namespace {

// Whether the plan knows what the history and the tables say now.
bool is_made_from_the_same(const Plan& plan, const Knowledge& knowledge, const History& history) {
  return !history.basis.empty() && plan.basis == history.basis &&
         plan.standard_hash == knowledge.standard.content_hash &&
         plan.model_hash == defaults_hash(knowledge.model, knowledge.rules);
}

}  // namespace

Replan replan(const Candidate& candidate, const Knowledge& knowledge, Date as_of, const History& history,
              const PlanOptions& options) {
  Replan out;
  const Plan& old = *history.plan;
  out.seen = as_seen(candidate, knowledge, as_of, history);
  if (!history.empty())
    out.learnt = fit_history(candidate, knowledge.standard, knowledge.model, as_of, history).reports;
  out.stops = pain_of(history.entries, knowledge.model, knowledge.rules.pain, as_of);
  out.off = work_off(candidate, out.stops, knowledge.model, knowledge.rules.pain, as_of);
  if (is_made_from_the_same(old, knowledge, history) && old.as_of == as_of) {
    out.unchanged = true;
    out.plan = old;
    return out;
  }
  out.reasons = reasons_for(candidate, knowledge, as_of, history, out);
  PlanOptions with = options;
  with.write_out = true;
  if (out.reasons.empty() && !history.empty()) with.keep_until = as_of + Days(kSteadyDays);
  out.ahead = make_plan(candidate, knowledge, as_of, history, with);
  // Days that stay must still fit what has changed in the calendar; where they do not, nothing stays.
  if (with.keep_until) {
    const auto broken = check_plan(out.ahead, out.seen, knowledge.standard, knowledge.model, knowledge.rules);
    if (!broken.empty()) {
      out.reasons.push_back(fmt::format("the next days no longer fit as they were: on {}, {}",
                                        date_words(broken.front().where), broken.front().what));
      with.keep_until.reset();
      out.ahead = make_plan(candidate, knowledge, as_of, history, with);
    }
  }
  out.plan = with_past(out.ahead, old);
  out.changes = changes_between(old, out.ahead, out, knowledge, history);
  out.stalls = stalls_in(history, knowledge, as_of);
  return out;
}

}  // namespace backplan

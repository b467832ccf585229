#include "core/replan_changes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "backplan/work_off.hpp"
#include "core/coming_back.hpp"
#include "core/replan_days.hpp"

namespace backplan {
namespace {

constexpr int kRecoveryDays = 2;            // after hard work that was not planned
constexpr int kDaysThatAreNotMadeUp = 14;   // after missed ones: the rest of this week and the next
constexpr double kYieldWorthNaming = 0.05;  // points an hour
constexpr double kRatioWorthNaming = 1.02;  // of two yields, against before
constexpr int kMinutesWorthNaming = 5;      // a week

std::optional<double> yield_of(const Plan& plan, const std::string& work) {
  for (const YieldRow& row : plan.yield) {
    if (row.work == work) return row.weeks_left_total;
  }
  return std::nullopt;
}

using Reason = std::optional<std::pair<ChangeCause, std::string>>;

// One question after the other, from what leaves no choice to what is a matter of points.
class Explainer {
 public:
  Explainer(const Plan& old, const Plan& now, const Replan& found, const Knowledge& knowledge,
            const History& history)
      : old_(old),
        now_(now),
        found_(found),
        knowledge_(knowledge),
        history_(history),
        lost_(lost_days(history, old, now.as_of)) {}

  [[nodiscard]] std::pair<ChangeCause, std::string> why(Date date, const PlannedDay* before,
                                                        const PlannedDay* after) const {
    for (const Reason& one :
         {by_test(), by_calendar(date), by_off(date, before, after), by_figures(date, before, after),
          by_gap(date), by_phase(date), by_recovery(date), by_work_lost(date), by_missed(date),
          by_yield(before, after), by_minutes(before, after), by_place(date)}) {
      if (one) return *one;
    }
    return {ChangeCause::refilled, "the week is filled anew from where you stand"};
  }

 private:
  [[nodiscard]] std::string name_of(const std::string& work) const {
    const WorkKind* kind = knowledge_.model.find_work(work);
    return kind != nullptr ? kind->name : work;
  }

  [[nodiscard]] Reason by_test() const {
    if (old_.test_date == now_.test_date) return std::nullopt;
    return {{ChangeCause::test_moved, fmt::format("the weeks count back from the test, now on {}",
                                                  date_words_with_year(now_.test_date))}};
  }

  [[nodiscard]] Reason by_calendar(Date date) const {
    const Candidate& candidate = found_.seen;
    const PlannedWeek* before = week_of(old_, date);
    for (const BlockedSpell& spell : candidate.blocked) {
      if (date < spell.from || date > spell.to) continue;
      if (none_permitted(candidate, placeable(knowledge_), date)) return std::nullopt;  // by_off says more
      return {{ChangeCause::calendar,
               spell.why.empty() ? "the day is blocked" : "the day is blocked: " + spell.why}};
    }
    if (before != nullptr && before->phase == Phase::blocked)
      return {{ChangeCause::calendar, "the day is no longer blocked"}};
    return std::nullopt;
  }

  [[nodiscard]] Reason by_off(Date date, const PlannedDay* before, const PlannedDay* after) const {
    const Minutes then = minutes_of(before);
    const Minutes now = minutes_of(after);
    for (const WorkOff& off :
         work_off(found_.seen, found_.stops, knowledge_.model, knowledge_.rules.pain, date)) {
      if (then.count(off.work) == 0) continue;
      const bool pain = std::any_of(found_.stops.begin(), found_.stops.end(), [&](const PainStop& stop) {
        return std::count(stop.work.begin(), stop.work.end(), off.work) > 0;
      });
      std::string text = fmt::format("{} off: {}", name_of(off.work), off.why);
      for (const std::string& other : off.instead) {
        if (now.count(other) == 0) continue;
        text += fmt::format("; {} instead", name_of(other));
        break;
      }
      return {{pain ? ChangeCause::pain : ChangeCause::off, text}};
    }
    return std::nullopt;
  }

  // The same work with another load, pace or number: whose level moved it.
  [[nodiscard]] Reason by_figures(Date date, const PlannedDay* before, const PlannedDay* after) const {
    if (!same_blocks(before, after)) return std::nullopt;
    std::string text;
    std::set<std::string> told;
    for (std::size_t i = 0; i < before->blocks.size(); ++i) {
      if (deeds_in(before->blocks[i].prescription) == deeds_in(after->blocks[i].prescription)) continue;
      const WorkKind* kind = knowledge_.model.find_work(before->blocks[i].work);
      if (kind == nullptr || !told.insert(kind->trains).second) continue;
      text += (text.empty() ? "" : "; ") + figures_of(*kind, date);
    }
    if (text.empty()) text = "set by what was shown since";
    return {{ChangeCause::figures, text}};
  }

  [[nodiscard]] std::string figures_of(const WorkKind& kind, Date date) const {
    for (const Event& event : knowledge_.standard.events) {
      if (event.model_event != kind.trains) continue;
      const auto then = expected_on(old_, event.id, date);
      const auto here = expected_on(now_, event.id, date);
      if (!then || !here) break;
      const double change = event.direction == Direction::more_is_better ? *here / *then : *then / *here;
      const double percent = 100.0 * (change - 1.0);
      if (percent > -0.05 && percent < 0.05) break;
      return fmt::format("{} expected {:.1f} % {} by then", event.name, percent < 0.0 ? -percent : percent,
                         percent < 0.0 ? "worse" : "better");
    }
    return fmt::format("by what was shown last in {}", kind.name);
  }

  // The weeks of a ramp after days without training.
  [[nodiscard]] Reason by_gap(Date date) const {
    const auto& off = found_.seen.now.off;
    if (!off) return std::nullopt;
    const Rules& rules = knowledge_.rules;
    const auto days = (off->to - off->from).count() + 1;
    const auto weeks_before = [&](Date day) { return ((now_.test_date - day).count() + 6) / 7; };
    const long week = weeks_before(off->to + Days(1)) - weeks_before(date);
    std::vector<double> shares;
    if (days >= rules.lost_days_for_half) shares = {rules.half_share};
    if (days >= rules.off_days_for_untrained) shares = rules.untrained_shares;
    if (week < 0 || week >= static_cast<long>(shares.size())) return std::nullopt;
    return {{ChangeCause::gap, fmt::format("after {} days without training a week of {:.0f} % of the minutes",
                                           days, 100.0 * shares[static_cast<std::size_t>(week)])}};
  }

  [[nodiscard]] Reason by_phase(Date date) const {
    const PlannedWeek* before = week_of(old_, date);
    const PlannedWeek* after = week_of(now_, date);
    if (before == nullptr || after == nullptr || before->phase == after->phase) return std::nullopt;
    return {{ChangeCause::phase, fmt::format("now a {} week, a {} week before", to_string(after->phase),
                                             to_string(before->phase))}};
  }

  [[nodiscard]] Reason by_recovery(Date date) const {
    for (const Done& done : history_.entries) {
      const auto* work = std::get_if<WorkDone>(&done.what);
      const auto after = (date - done.date).count();
      if (work == nullptr || after < 1 || after > kRecoveryDays) continue;
      const WorkKind* kind = knowledge_.model.find_work(work->work);
      const PlannedDay* planned = day_on(old_, done.date);
      const bool was_planned = planned != nullptr && minutes_of(planned).count(work->work) > 0;
      if (was_planned || !(work->hard || (kind != nullptr && kind->hard))) continue;
      return {{ChangeCause::recovery, fmt::format("hard work on {} that was not planned: {}",
                                                  date_words(done.date), name_of(work->work))}};
    }
    return std::nullopt;
  }

  [[nodiscard]] Reason by_missed(Date date) const {
    if (lost_.all() < kLostDays || (date - now_.as_of).count() >= kDaysThatAreNotMadeUp) return std::nullopt;
    return {{ChangeCause::missed, lost_words(lost_, knowledge_.model.unlogged_day_share)}};
  }

  // Another day of the week lost work that is off; its minutes went here.
  [[nodiscard]] Reason by_work_lost(Date date) const {
    const PlannedWeek* before = week_of(old_, date);
    if (before == nullptr) return std::nullopt;
    for (const PlannedDay& day : before->days) {
      if (day.date < now_.as_of) continue;
      const Reason lost = by_off(day.date, &day, day_on(now_, day.date));
      if (lost) return {{lost->first, lost->second + "; the week is filled anew"}};
    }
    return std::nullopt;
  }

  // Work in, work out: whose points an hour moved against the other's.
  [[nodiscard]] Reason by_yield(const PlannedDay* before, const PlannedDay* after) const {
    const Minutes then = minutes_of(before);
    const Minutes now = minutes_of(after);
    double best = kRatioWorthNaming;
    std::string text;
    for (const auto& [in, more] : now) {
      if (then.count(in) > 0) continue;
      for (const auto& [out, less] : then) {
        if (now.count(out) > 0) continue;
        const auto in_then = yield_of(old_, in);
        const auto in_now = yield_of(now_, in);
        const auto out_then = yield_of(old_, out);
        const auto out_now = yield_of(now_, out);
        if (!in_then || !in_now || !out_then || !out_now) continue;
        if (*in_then < kYieldWorthNaming || *out_now < kYieldWorthNaming) continue;
        const double moved = (*in_now / *out_now) / (*in_then / std::max(*out_then, kYieldWorthNaming));
        if (moved <= best) continue;
        best = moved;
        text = fmt::format(
            "an hour more of {} brings {:.1f} points now and of {} {:.1f}; before {:.1f} and "
            "{:.1f}",
            name_of(in), *in_now, name_of(out), *out_now, *in_then, *out_then);
      }
    }
    if (text.empty()) return std::nullopt;
    return {{ChangeCause::yield, text}};
  }

  [[nodiscard]] Reason by_minutes(const PlannedDay* before, const PlannedDay* after) const {
    const auto sum = [](const PlannedDay* day) {
      int minutes = 0;
      for (const auto& [work, each] : minutes_of(day)) minutes += each;
      return minutes;
    };
    const int day = sum(after) - sum(before);
    const int week = now_.minutes_per_week - old_.minutes_per_week;
    const bool agree = (day > 0 && week >= kMinutesWorthNaming) || (day < 0 && week <= -kMinutesWorthNaming);
    if (!agree) return std::nullopt;
    const std::string words = day > 0 ? (now_.enough ? "the target needs more" : "the target is at risk")
                                      : (now_.enough ? "the target is safe with less"
                                                     : "the rules and what brings points leave less");
    return {{ChangeCause::minutes, fmt::format("{}: {} min in a usual week, {} before", words,
                                               now_.minutes_per_week, old_.minutes_per_week)}};
  }

  // The same blocks of the week on other days.
  [[nodiscard]] Reason by_place(Date date) const {
    const PlannedWeek* before = week_of(old_, date);
    const PlannedWeek* after = week_of(now_, date);
    if (before == nullptr || after == nullptr) return std::nullopt;
    if (blocks_in(before, now_.as_of) != blocks_in(after, now_.as_of)) return std::nullopt;
    return {{ChangeCause::moved, "the week has the same work on other days"}};
  }

  const Plan& old_;
  const Plan& now_;
  const Replan& found_;
  const Knowledge& knowledge_;
  const History& history_;
  LostDays lost_;
};

}  // namespace

std::vector<SessionChange> changes_between(const Plan& old, const Plan& now, const Replan& found,
                                           const Knowledge& knowledge, const History& history) {
  const Explainer explainer(old, now, found, knowledge, history);
  std::vector<SessionChange> out;
  const Date last = std::max(old.test_date, now.test_date);
  for (Date date = now.as_of; date < last; date += Days(1)) {
    const PlannedDay* before = date < old.test_date ? day_on(old, date) : nullptr;
    const PlannedDay* after = day_on(now, date);
    if (same_session(before, after)) continue;
    const auto [cause, why] = explainer.why(date, before, after);
    out.push_back({date, day_words(before, knowledge.model), day_words(after, knowledge.model),
                   figures_words(before, after), cause, why});
  }
  return out;
}

}  // namespace backplan

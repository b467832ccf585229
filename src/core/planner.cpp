#include "backplan/planner.hpp"

#include <algorithm>
#include <map>

#include "backplan/work_off.hpp"
#include "core/coming_back.hpp"
#include "core/plan_start.hpp"
#include "core/plan_writer.hpp"

namespace backplan {
namespace {

constexpr double kLostWeekShare = 0.125;  // one week in eight lost: the reserve of `aim: target`
const AllocationEffort kCompare{.prove = false, .rounds = 3, .nodes = 0, .counting_nodes = 0, .gap = 0.05};
const AllocationEffort kProve{.prove = true, .rounds = 14, .nodes = 40, .counting_nodes = 3000, .gap = 0.05};

// The same season with one week in eight lost.
Dosage with_lost_weeks(const Dosage& dosage, const SeasonPlanner& planner) {
  Dosage out = dosage;
  for (std::size_t e = 0; e < out.s.size(); ++e) {
    double weeks = 0.0;
    for (const Segment& segment : planner.segments()) weeks += segment.counted[e];
    out.s[e] *= 1.0 - kLostWeekShare;
    out.loss[e] += kLostWeekShare * weeks * planner.states()[e].model->loss_per_week;
  }
  return out;
}

struct Budget {
  int minutes = 0;
  std::optional<int> least_for_target;
  Season season;  // as compared: without proof
};

// Compares budgets of minutes a week. Each is filled once.
class BudgetSearch {
 public:
  BudgetSearch(SeasonPlanner& planner, const Candidate& candidate)
      : planner_(planner), candidate_(candidate), most_(planner.available_minutes()) {}

  // The fewest minutes that hold the confidence with a week in eight lost; all of them if none do.
  Budget choose() {
    const int steps = (most_ + kMinutesStep - 1) / kMinutesStep;
    const auto least = least_that_holds(0, steps, false);
    std::optional<int> chosen;
    if (candidate_.aim == Aim::target && least) chosen = least_that_holds(*least, steps, true);
    const int step = chosen.value_or(steps);
    Budget out;
    out.minutes = minutes_at(step);
    if (least) out.least_for_target = minutes_at(*least);
    out.season = filled(step);
    return out;
  }

 private:
  [[nodiscard]] int minutes_at(int step) const { return std::min(most_, step * kMinutesStep); }

  const Season& filled(int step) {
    const auto found = seasons_.find(step);
    if (found != seasons_.end()) return found->second;
    return seasons_.emplace(step, planner_.fill(minutes_at(step), kCompare)).first->second;
  }

  [[nodiscard]] std::vector<int> filled_steps() const {
    std::vector<int> out;
    for (const auto& [step, season] : seasons_) out.push_back(step);
    return out;
  }

  bool holds_at(int step, bool with_reserve) {
    const Dosage& dosage = filled(step).dosage;
    return holds(planner_.outlook(with_reserve ? with_lost_weeks(dosage, planner_) : dosage),
                 candidate_.target);
  }

  // The first step from `from` on. Chances rise with minutes, so the steps are searched by halving; between
  // those that are filled already first, since a look at a filled one costs next to nothing.
  std::optional<int> least_that_holds(int from, int steps, bool with_reserve) {
    if (!holds_at(steps, with_reserve)) return std::nullopt;
    int low = from;
    int high = steps;
    for (const int step : filled_steps()) {
      if (step < low || step >= high) continue;
      if (holds_at(step, with_reserve)) {
        high = step;
      } else {
        low = step + 1;
      }
    }
    while (low < high) {
      const int middle = (low + high) / 2;
      if (holds_at(middle, with_reserve)) {
        high = middle;
      } else {
        low = middle + 1;
      }
    }
    return high;
  }

  SeasonPlanner& planner_;
  const Candidate& candidate_;
  int most_;
  std::map<int, Season> seasons_;
};

// A candidate as planned, and the states that a history gave; none: fitted from results alone.
struct Subject {
  Candidate candidate;
  std::optional<std::vector<EventState>> fitted;
  [[nodiscard]] const std::vector<EventState>* states() const { return fitted ? &*fitted : nullptr; }
};

Subject subject_of(const Candidate& given, const Knowledge& knowledge, Date as_of, const History& history) {
  Subject out{as_seen(given, knowledge, as_of, history), std::nullopt};
  // The fit starts from what was usual before the record, the plan from what was done lately.
  if (!history.empty()) out.fitted = fit_progress(given, knowledge.standard, knowledge.model, as_of, history);
  return out;
}

// The weeks of the earlier plan whose days from today to before `until` stay; none where the test has
// moved, since weeks count back from it.
std::vector<PlannedWeek> kept_weeks(const History& history, const Candidate& candidate, Date as_of,
                                    const std::optional<Date>& until) {
  std::vector<PlannedWeek> out;
  if (!until || !history.plan || history.plan->test_date != candidate.test_date) return out;
  for (const PlannedWeek& week : history.plan->weeks) {
    if (week.starts >= *until || week.starts + Days(week.days_long) <= as_of) continue;
    out.push_back(week);
    auto& days = out.back().days;
    days.erase(
        std::remove_if(days.begin(), days.end(), [&](const PlannedDay& day) { return day.date < as_of; }),
        days.end());
  }
  return out;
}

// Whether the history's plan was made in time for a taper before the same test.
bool goes_on(const History& history, const Candidate& candidate, const Rules& rules) {
  if (!history.plan || history.plan->weeks.empty() || history.plan->test_date != candidate.test_date)
    return false;
  const Date began = history.plan->weeks.front().starts;
  return (candidate.test_date - began).count() >= rules.plan_without_training_under_days;
}

Beginning beginning_of(const Subject& subject, const Knowledge& knowledge, Date as_of, const History& history,
                       const PlanOptions& options) {
  const auto to_test = static_cast<int>((subject.candidate.test_date - as_of).count());
  const Date week_starts = subject.candidate.test_date - Days(7 * ((to_test + 6) / 7));
  return {so_far_of(history, knowledge.model, as_of, week_starts),
          kept_weeks(history, subject.candidate, as_of, options.keep_until),
          goes_on(history, subject.candidate, knowledge.rules)};
}

SeasonPlanner planner_for(const Subject& subject, const Knowledge& knowledge, Date as_of,
                          Beginning beginning = {}) {
  if (!subject.fitted) return {subject.candidate, knowledge, as_of};
  return {subject.candidate, knowledge, as_of, *subject.fitted, std::move(beginning)};
}

// Kept days keep their words too: a load that changes by a step is no reason to change tomorrow.
void restore_kept_days(Plan& plan, const std::vector<PlannedWeek>& kept) {
  for (const PlannedWeek& old : kept) {
    for (PlannedWeek& week : plan.weeks) {
      if (week.index == old.index) week.days = old.days;
    }
  }
}

}  // namespace

Candidate as_seen(const Candidate& given, const Knowledge& knowledge, Date as_of, const History& history) {
  Candidate out = given;
  // Pain stops work even where nothing else is logged.
  if (!history.empty()) out = as_trained(out, knowledge.model, history, as_of);
  for (const PainStop& stop : pain_of(history.entries, knowledge.model, knowledge.rules.pain, as_of)) {
    for (const std::string& work : stop.work)
      out.avoid.push_back({work, as_of, std::nullopt, "pain: " + stop.region});
  }
  for (BlockedSpell& spell : days_of_nothing(out, placeable(knowledge), as_of))
    out.blocked.push_back(std::move(spell));
  return out;
}

Plan make_plan(const Candidate& given, const Knowledge& knowledge, Date as_of, const PlanOptions& options) {
  return make_plan(given, knowledge, as_of, History{}, options);
}

Plan make_plan(const Candidate& given, const Knowledge& knowledge, Date as_of, const History& history,
               const PlanOptions& options) {
  const Subject subject = subject_of(given, knowledge, as_of, history);
  const Candidate& candidate = subject.candidate;
  Plan plan;
  set_heading(plan, candidate, knowledge, as_of);
  plan.basis = history.basis;
  const Beginning beginning = beginning_of(subject, knowledge, as_of, history, options);
  SeasonPlanner planner = planner_for(subject, knowledge, as_of, beginning);
  plan.goes_on = beginning.goes_on;
  plan.minutes_available = planner.available_minutes();
  if (const std::string why = refusal(candidate, as_of); !why.empty()) {
    plan.refused.push_back(why);
    write_cautions(plan, Season{}, planner, candidate, knowledge, history);
    return plan;
  }
  plan.without_training = planner.outlook(planner.holding());
  const Budget budget = BudgetSearch(planner, candidate).choose();
  const Season season = options.prove ? planner.fill(budget.minutes, kProve) : budget.season;
  plan.outlook = planner.outlook(season.dosage);
  note_latest(plan.outlook, given, knowledge.standard, history, as_of);
  plan.least_minutes_for_target = budget.least_for_target;
  plan.minutes_per_week = season.minutes_per_week;
  plan.optimality.value = season.value;
  if (options.prove) {
    plan.optimality.bound = season.bound;
    plan.outlook.total.bins = planner.total_bins(season.dosage);
  }
  plan.enough = holds(plan.outlook, candidate.target);
  if (options.write_out) {
    write_weeks(plan, season, planner, candidate, knowledge, as_of, history);
    restore_kept_days(plan, beginning.kept);
    plan.yield = yield_rows(planner, candidate, knowledge);
    write_given_up(plan, season, budget.minutes, planner, candidate, knowledge);
    write_cautions(plan, season, planner, candidate, knowledge, history);
    write_assumptions(plan, given, knowledge);
  }
  if (!plan.enough && options.ways_out)
    plan.ways_out = find_ways_out(candidate, knowledge, as_of, planner, season, subject.states());
  return plan;
}

YieldReport work_out_yield(const Candidate& given, const Knowledge& knowledge, Date as_of,
                           const History& history) {
  if (std::string why = refusal(given, as_of); !why.empty()) return {std::move(why), {}, {}};
  const Subject subject = subject_of(given, knowledge, as_of, history);
  const SeasonPlanner planner = planner_for(subject, knowledge, as_of);
  YieldReport out{{}, yield_rows(planner, subject.candidate, knowledge), planner.outlook(planner.holding())};
  note_latest(out.now, given, knowledge.standard, history, as_of);
  return out;
}

}  // namespace backplan

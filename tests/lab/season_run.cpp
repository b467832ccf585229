#include "lab/season_run.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "backplan/check.hpp"
#include "backplan/numeric.hpp"
#include "core/dose_history.hpp"
#include "lab/scoring.hpp"

namespace backplan::lab {
namespace {

constexpr int kDaysInWeek = 7;
constexpr double kLowEnd = 0.1, kHighEnd = 0.9;  // of 8 in 10

// Share of the forecast below the truth.
double below(const EventState& state, double truth, double s, double loss) {
  double sum = 0.0;
  for (const auto& node : state.nodes) {
    const double z = (truth - state.mean_at(node, s, loss)) / std::sqrt(state.variance_at(node, s));
    sum += node.weight * numeric::normal_cdf(z);
  }
  return sum;
}

bool inside(double share) { return share > kLowEnd && share < kHighEnd; }

// Holds the fit of some mornings against what was and what came.
class Intervals {
 public:
  explicit Intervals(const Knowledge& knowledge) : knowledge_(knowledge) {}

  // `keep`: hold the forecast against the test day, too.
  void look(const Trainee& trainee, Date as_of, bool keep) {
    const Person& person = trainee.person();
    std::vector<EventState> states =
        fit_progress(person.candidate, knowledge_.standard, knowledge_.model, as_of, trainee.history());
    if (keep) {
      kept_ = states;
      kept_on_ = as_of;
    }
    for (std::size_t e = 0; e < states.size(); ++e) {
      states[e].var_ahead = 0.0;
      now_.count(inside(below(states[e], person.events[e].ability(), 0.0, 0.0)));
    }
  }

  // On the test day: what was foretold in the middle of the season, given what was logged since.
  void close(const Trainee& trainee, Outcome& out) {
    out.now = now_;
    if (kept_.empty()) return;
    const Person& person = trainee.person();
    const Date test = person.candidate.test_date;
    const History& history = trainee.history();
    const auto days = days_done(history, knowledge_.model, test);
    for (std::size_t e = 0; e < kept_.size(); ++e) {
      const EventState& state = kept_[e];
      const DoseHistory dose(days, *history.begins, knowledge_.model, *state.model, state.dose);
      const double s = dose.s_on(test) - dose.s_on(kept_on_);
      const double loss = dose.loss_on(test) - dose.loss_on(kept_on_);
      out.test_day.count(inside(below(state, person.events[e].ability(), s, loss)));
    }
  }

 private:
  const Knowledge& knowledge_;
  Coverage now_;
  std::vector<EventState> kept_;
  Date kept_on_;
};

std::map<Date, const PlannedDay*> by_date(const Plan& plan) {
  std::map<Date, const PlannedDay*> out;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) out[day.date] = &day;
  }
  return out;
}

}  // namespace

void Coverage::count(bool is_inside) {
  ++cases;
  inside += is_inside ? 1 : 0;
}

Coverage& Coverage::operator+=(const Coverage& other) {
  cases += other.cases;
  inside += other.inside;
  return *this;
}

Outcome run_season(const Person& person, Policy& policy, const Knowledge& knowledge, bool intervals) {
  Outcome out;
  Trainee trainee(person, knowledge);
  out.start = score_day(person, knowledge).expected;
  Intervals looked(knowledge);
  const Date test = person.candidate.test_date;
  const auto weeks = (test - person.begins).count() / kDaysInWeek;
  for (Date monday = person.begins; monday < test; monday += Days(kDaysInWeek)) {
    const auto week = (monday - person.begins).count() / kDaysInWeek;
    if (intervals && week >= 2) looked.look(trainee, monday, week == weeks / 2);
    Decision decision =
        policy.decide({person.candidate, knowledge, trainee.history(), monday, trainee.person()});
    if (!decision.ahead.weeks.empty()) {
      out.broken_rules += static_cast<int>(
          check_plan(decision.ahead, decision.seen, knowledge.standard, knowledge.model, knowledge.rules)
              .size());
    }
    trainee.history().plan = std::move(decision.plan);
    const auto days = by_date(*trainee.history().plan);
    for (Date date = monday; date < std::min(test, monday + Days(kDaysInWeek)); date += Days(1)) {
      const auto found = days.find(date);
      trainee.live(found == days.end() ? nullptr : found->second, date);
    }
    if (monday + Days(kDaysInWeek) < test) trainee.measure(monday + Days(kDaysInWeek) - Days(1));
  }
  if (intervals) looked.close(trainee, out);
  const DayScore score = score_day(trainee.person(), knowledge);
  out.total = score.expected;
  out.p_pass = score.p_pass;
  out.p_target = score.p_target;
  out.minutes = trainee.minutes() / static_cast<double>(weeks);
  return out;
}

}  // namespace backplan::lab

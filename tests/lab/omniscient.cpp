#include "lab/omniscient.hpp"

#include <algorithm>
#include <list>

#include "backplan/evidence.hpp"
#include "backplan/outlook.hpp"
#include "core/progress_prior.hpp"
#include "lab/omniscient_fit.hpp"
#include "lab/season_plan.hpp"
#include "lab/simple_policies.hpp"

namespace backplan::lab {
namespace {

const AllocationEffort kEffort{.prove = false, .rounds = 3, .nodes = 0, .counting_nodes = 0, .gap = 0.05};

double stimulus_of(const WorkKind& kind, BlockSize size) {
  if (size == BlockSize::shorter) return kind.shorter.stimulus;
  if (size == BlockSize::home && kind.home) return kind.home->stimulus;
  return kind.full.stimulus;
}

// The true figures of one event as a model of it.
EventModel model_of(const EventModel& known, const Linearised& fit) {
  EventModel out = known;
  out.dose = fit.dose;
  out.k_per_week = fit.k;
  out.loss_per_week = fit.loss_per_week;
  return out;
}

Decision planned_by(const Situation& now, const Candidate& seen, const Knowledge& knowledge,
                    std::vector<EventState> states) {
  SeasonPlanner planner(seen, knowledge, now.as_of, std::move(states), beginning_of(now));
  const Season season = planner.fill(planner.available_minutes(), kEffort);
  return decision_of(now, seen, planner, season);
}

}  // namespace

std::vector<EventState> true_states(const Person& person, const Candidate& seen, const Knowledge& knowledge,
                                    Date as_of) {
  std::vector<EventState> out;
  const int days = static_cast<int>((seen.test_date - as_of).count());
  for (std::size_t e = 0; e < person.events.size(); ++e) {
    EventState state = unfitted(knowledge.standard.events[e], seen, knowledge.standard, knowledge.model);
    const Linearised fit = linearise(person.events[e], days, state.model->earns_nothing_days);
    state.measured = true;
    state.v0 = person.events[e].ability();
    state.dose = fit.dose;
    for (auto& node : state.nodes) {
      node = {fit.k, 1.0 / kRateNodes, state.v0, fit.h, 0.0, 0.0, 0.0};
    }
    out.push_back(state);
  }
  return out;
}

double true_value(Person person, const Plan& plan, const Knowledge& knowledge, Date as_of) {
  std::map<Date, const PlannedDay*> days;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) days[day.date] = &day;
  }
  const Candidate& candidate = person.candidate;
  for (Date date = as_of; date < candidate.test_date; date += Days(1)) {
    std::map<std::string, double> stimulus;
    if (const auto found = days.find(date); found != days.end()) {
      for (const Block& block : found->second->blocks)
        stimulus[block.work] += stimulus_of(*knowledge.model.find_work(block.work), block.size);
    }
    person.pass(stimulus);
  }
  double sum = 0.0;
  const Category& category = *knowledge.standard.find_category(candidate.category);
  for (std::size_t e = 0; e < person.events.size(); ++e) {
    const Event& event = knowledge.standard.events[e];
    const EventState state = unfitted(event, candidate, knowledge.standard, knowledge.model);
    const AbilityScale scale(*state.scale, pass_minimum(category));
    const double v = person.events[e].ability();
    const double sd = noise_of(*state.model, result_of(v, event.direction));
    sum += scale.expected_points(v, sd) -
           knowledge.model.value.below_minimum_cost * scale.p_below_minimum(v, sd);
  }
  return sum;
}

Decision Omniscient::decide(const Situation& now) {
  if (last_week(now)) return unchanged(now);
  const Candidate seen = as_seen(now.candidate, now.knowledge, now.as_of, now.history);
  Model model = true_model(now.knowledge.model, now.truth, now.knowledge.standard);
  const Knowledge knowledge{now.knowledge.standard, model, now.knowledge.rules};
  std::vector<EventState> states = true_states(now.truth, seen, knowledge, now.as_of);
  std::list<EventModel> models;
  const int days = static_cast<int>((seen.test_date - now.as_of).count());
  for (std::size_t e = 0; e < states.size(); ++e) {
    const Linearised fit = linearise(now.truth.events[e], days, states[e].model->earns_nothing_days);
    models.push_back(model_of(*states[e].model, fit));
    states[e].model = &models.back();
  }
  std::vector<Decision> choices;
  choices.push_back(planned_by(now, seen, knowledge, states));
  EqualSplit equal;
  choices.push_back(equal.decide(now));
  WeakestFirst weakest;
  choices.push_back(weakest.decide(now));
  choices.push_back(planned_by(
      now, seen, now.knowledge,
      fit_progress(now.candidate, now.knowledge.standard, now.knowledge.model, now.as_of, now.history)));
  if (now.history.plan) choices.push_back(unchanged(now));
  std::size_t best = 0;
  double most = -1e9;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const double value = true_value(now.truth, choices[i].plan, now.knowledge, now.as_of);
    if (value <= most) continue;
    most = value;
    best = i;
  }
  return choices[best];
}

}  // namespace backplan::lab

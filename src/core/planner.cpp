#include "backplan/planner.hpp"

#include <algorithm>

#include "core/plan_writer.hpp"

namespace backplan {
namespace {

constexpr int kMinutesStep = 15;          // between the budgets that are compared
constexpr double kLostWeekShare = 0.125;  // one week in eight lost: the reserve of `aim: target`
const AllocationEffort kCompare{false, 5, 0, 0.05};
const AllocationEffort kQuick{false, 6, 0, 0.05};
const AllocationEffort kProve{true, 14, 80, 0.02};

// Why nothing can be planned at all; empty otherwise.
std::string refusal(const Candidate& candidate, Date as_of) {
  const Medical& medical = candidate.medical;
  if (medical.status == MedicalStatus::pregnant) {
    return "no plan during pregnancy: ask your provider and the pregnancy and postpartum training programme";
  }
  if (medical.status == MedicalStatus::postpartum && (!medical.cleared_on || *medical.cleared_on > as_of)) {
    return "no plan before a provider has cleared you after pregnancy: enter \"cleared_on\" when that is done";
  }
  return {};
}

// After pregnancy everybody starts as new to training.
Candidate as_planned(const Candidate& candidate) {
  Candidate out = candidate;
  if (out.medical.status == MedicalStatus::postpartum) out.background = Background::new_to_training;
  return out;
}

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
};

// The fewest minutes that hold the confidence with a week in eight lost; all of them if none do.
// Chances rise with minutes, so the steps are searched by halving.
Budget choose_minutes(SeasonPlanner& planner, const Candidate& candidate) {
  const int most = planner.available_minutes();
  const int steps = (most + kMinutesStep - 1) / kMinutesStep;
  const auto holds_at = [&](int step, bool reserve) {
    const Season season = planner.fill(std::min(most, step * kMinutesStep), kCompare);
    const Dosage dosage = reserve ? with_lost_weeks(season.dosage, planner) : season.dosage;
    return holds(planner.outlook(dosage), candidate.target);
  };
  const auto least = [&](bool reserve) -> std::optional<int> {
    if (!holds_at(steps, reserve)) return std::nullopt;
    int low = 0;
    int high = steps;
    while (low < high) {
      const int middle = (low + high) / 2;
      if (holds_at(middle, reserve)) {
        high = middle;
      } else {
        low = middle + 1;
      }
    }
    return std::min(most, high * kMinutesStep);
  };
  Budget out;
  out.least_for_target = least(false);
  out.minutes = most;
  if (candidate.aim == Aim::target && out.least_for_target) {
    if (const auto safe = least(true)) out.minutes = *safe;
  }
  return out;
}

void set_heading(Plan& plan, const Candidate& candidate, const Knowledge& knowledge, Date as_of) {
  plan.candidate = candidate.id;
  plan.as_of = as_of;
  plan.test_date = candidate.test_date;
  plan.standard = knowledge.standard.id;
  plan.standard_hash = knowledge.standard.content_hash;
  plan.model_hash = knowledge.model.content_hash;
  plan.category = candidate.category;
  plan.age = age_on(candidate.birth_date, candidate.test_date);
  plan.target = candidate.target;
}

}  // namespace

Plan make_plan(const Candidate& given, const Knowledge& knowledge, Date as_of, const PlanOptions& options) {
  const Candidate candidate = as_planned(given);
  Plan plan;
  set_heading(plan, candidate, knowledge, as_of);
  SeasonPlanner planner(candidate, knowledge, as_of);
  plan.minutes_available = planner.available_minutes();
  plan.without_training = planner.outlook(planner.holding());
  if (const std::string why = refusal(candidate, as_of); !why.empty()) {
    plan.refused.push_back(why);
    plan.outlook = plan.without_training;
    return plan;
  }
  const Budget budget = choose_minutes(planner, candidate);
  const Season season = planner.fill(budget.minutes, options.prove ? kProve : kQuick);
  plan.outlook = planner.outlook(season.dosage);
  plan.least_minutes_for_target = budget.least_for_target;
  plan.minutes_per_week = season.minutes_per_week;
  plan.optimality = {season.value, season.bound};
  plan.enough = holds(plan.outlook, candidate.target);
  if (options.write_out) {
    write_weeks(plan, season, planner, candidate, knowledge, as_of);
    plan.yield = yield_rows(planner, candidate, knowledge);
    write_given_up(plan, season, planner);
    write_cautions(plan, season, planner, candidate, knowledge);
    write_assumptions(plan, given, knowledge);
  }
  if (!plan.enough && options.ways_out) plan.ways_out = find_ways_out(candidate, knowledge, as_of, planner, season);
  return plan;
}

YieldReport work_out_yield(const Candidate& given, const Knowledge& knowledge, Date as_of) {
  const Candidate candidate = as_planned(given);
  const SeasonPlanner planner(candidate, knowledge, as_of);
  return {yield_rows(planner, candidate, knowledge), planner.outlook(planner.holding())};
}

}  // namespace backplan

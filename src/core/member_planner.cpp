#include "core/member_planner.hpp"

#include <algorithm>

#include "backplan/morning.hpp"
#include "backplan/work_off.hpp"
#include "core/plan_start.hpp"
#include "core/plan_writer.hpp"

namespace backplan {
namespace {

// Of the goal's value, for each expected point: decides between weeks that serve the goal alike (judgement).
constexpr double kTiePoint = 1e-4;
// Points that a sure miss of a minimum costs when passing is what counts (judgement: four times the usual).
constexpr double kPassingCounts = 4.0;
constexpr double kWorthAnExtra = 0.01;  // of the goal's value: less is not worth a person's free time

}  // namespace

std::shared_ptr<const DoseTables> SharedTables::of(const std::vector<EventState>& states) {
  std::vector<double> doses;
  for (const EventState& state : states) {
    for (const double one :
         {state.dose.u0, state.dose.keep, state.dose.reference, state.model->loss_per_week})
      doses.push_back(one);
  }
  for (const auto& [known, tables] : known_) {
    if (known == doses) return tables;
  }
  known_.emplace_back(doses, std::make_shared<const DoseTables>(states));
  return known_.back().second;
}

MemberPlanner::MemberPlanner(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                             const History& history, SharedTables& tables)
    : candidate_(as_seen(candidate, knowledge, as_of, history)),
      knowledge_(knowledge),
      as_of_(as_of),
      history_(history),
      refused_(refusal(candidate, as_of)) {
  const SquadRules& squad = knowledge.rules.squad;
  candidate_.equipment.leg_wait_s = (kPeopleALane - 1) * squad.drag_seconds;
  candidate_.equipment.course_wait_s = (kPeopleALane - 1) * squad.course_seconds;
  states_ = history.empty() ? fit_progress(candidate_, knowledge.standard, knowledge.model, as_of)
                            : fit_progress(candidate, knowledge.standard, knowledge.model, as_of, history);
  const auto to_test = static_cast<int>((candidate_.test_date - as_of).count());
  so_far_ = so_far_of(history, knowledge.model, as_of, candidate_.test_date - Days(7 * ((to_test + 6) / 7)));
  prices_ = prices_of(states_, candidate_, knowledge, as_of,
                      kPassingCounts * knowledge.model.value.below_minimum_cost);
  tables_ = tables.of(states_);
  start();
}

void MemberPlanner::start() {
  planner_ = std::make_unique<SeasonPlanner>(candidate_, knowledge_, as_of_, states_, Beginning{so_far_, {}},
                                             tables_);
  figures_ =
      std::make_unique<DayFigures>(planner_->states(), candidate_, knowledge_.standard, knowledge_.model);
}

int MemberPlanner::hard_limit() const {
  return hard_day_limit(knowledge_.rules, candidate_.trains_as(),
                        age_on(candidate_.birth_date, candidate_.test_date));
}

int MemberPlanner::intervals_limit() const {
  return knowledge_.rules.intervals_a_week.of(candidate_.trains_as());
}

std::uint32_t MemberPlanner::kinds_to_avoid() const {
  std::uint32_t off = 0;
  for (const CalendarDay& day : planner_->calendar().days()) {
    if (!day.closed && day.usable > 0 &&
        (candidate_.test_date - day.date).count() > knowledge_.rules.no_deadlift_days)
      off |= ~(day.allowed | day.gentle);  // what only comes back gently is not off
  }
  const std::size_t kinds = planner_->calendar().kinds().size();
  return off & ((1U << kinds) - 1U);
}

bool MemberPlanner::needs_lanes() const {
  const auto& kinds = planner_->calendar().kinds();
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    if (lane_word(*kinds[k]).empty()) continue;
    for (const CalendarDay& day : planner_->calendar().days()) {
      if ((day.allowed >> k & 1U) != 0 && day.usable > 0) return true;
    }
  }
  return false;
}

// Stretches of days on which the work is off, where some open morning of them has it.
void MemberPlanner::add_restrictions(const std::string& work, const Layout& layout,
                                     std::vector<Restriction>& out) const {
  const auto is_off = [&](Date date) {
    const auto off = work_off(candidate_, {}, knowledge_.model, knowledge_.rules.pain, date);
    return std::any_of(off.begin(), off.end(), [&](const WorkOff& one) { return one.work == work; });
  };
  std::optional<Restriction> now;
  bool met = false;
  for (const CalendarDay& day : planner_->calendar().days()) {
    if (!is_off(day.date)) {
      if (now && met) out.push_back(*now);
      now.reset();
      met = false;
      continue;
    }
    if (!now) now = Restriction{{work}, day.date, day.date, false};
    now->to = day.date;
    now->to_test = day.date == candidate_.test_date - Days(1);
    const auto& common = layout.pattern.days[static_cast<std::size_t>(weekday_index(day.date))];
    met = met || (!day.closed && day.usable > 0 &&
                  std::any_of(common.begin(), common.end(),
                              [&](const PatternBlock& block) { return block.work == work; }));
  }
  if (now && met) out.push_back(*now);
}

std::vector<Restriction> MemberPlanner::restrictions(const Layout& layout) const {
  std::vector<Restriction> out;
  for (std::size_t k = 0; k < planner_->calendar().kinds().size(); ++k) {
    const KindCount& n = layout.pack.kinds[k];
    if (n.full + n.shorter == 0) continue;
    std::vector<Restriction> own;
    add_restrictions(planner_->calendar().kinds()[k]->id, layout, own);
    for (Restriction& one : own) {
      const auto same = std::find_if(out.begin(), out.end(), [&](const Restriction& other) {
        return other.from == one.from && other.to == one.to;
      });
      if (same == out.end()) {
        out.push_back(std::move(one));
      } else {
        same->work.push_back(one.work.front());
      }
    }
  }
  return out;
}

Season MemberPlanner::season(const Layout& layout, const CommonWeek& week, const Pack& extras) {
  Following following;
  following.pack = layout.pack;
  for (std::size_t k = 0; k < extras.kinds.size(); ++k) following.pack.kinds[k].home = extras.kinds[k].home;
  following.stations = layout.stations;
  following.instead = week.with_instead(layout.stations, kinds_to_avoid());
  following.prices = prices_;
  return planner_->follow(following);
}

double MemberPlanner::goal_value(const Dosage& dosage, SquadGoal goal) const {
  const double points = figures_->expected_total(dosage);
  if (goal == SquadGoal::highest_mean) return points;
  const double chance = goal == SquadGoal::fewest_failing ? figures_->chance_of_passing(dosage)
                                                          : figures_->chance_of_target(dosage);
  return chance + kTiePoint * points;
}

double MemberPlanner::value(const Layout& layout, const CommonWeek& week, SquadGoal goal) {
  return goal_value(season(layout, week, Pack{}).dosage, goal);
}

double MemberPlanner::value_without_training(SquadGoal goal) { return goal_value(planner_->holding(), goal); }

Pack MemberPlanner::extras(const Layout& layout, const CommonWeek& week, int most, SquadGoal goal,
                           double confidence) {
  Pack best;
  const Season without = season(layout, week, best);
  const Outlook outlook = planner_->outlook(without.dosage);
  const double safe = goal == SquadGoal::most_at_target ? outlook.p_target : outlook.p_pass;
  const int asked = candidate_.home_blocks;
  if (goal == SquadGoal::highest_mean || safe >= confidence || most <= 0 || planner_->too_late()) return best;
  candidate_.home_blocks = most;
  start();
  double value = goal_value(without.dosage, goal) + kWorthAnExtra;
  std::vector<std::size_t> home;
  for (std::size_t k = 0; k < planner_->calendar().kinds().size(); ++k) {
    if (planner_->calendar().kinds()[k]->home) home.push_back(k);
  }
  for (std::size_t a = 0; a < home.size(); ++a) {
    for (std::size_t b = a; b < home.size(); ++b) {
      Pack pack;
      pack.kinds[home[a]].home = 1;
      if (most > 1) ++pack.kinds[home[b]].home;
      const double here = goal_value(season(layout, week, pack).dosage, goal);
      if (here <= value) continue;
      value = here;
      best = pack;
    }
  }
  if (best == Pack{}) {
    candidate_.home_blocks = asked;
    start();
  }
  return best;
}

Plan MemberPlanner::plan(const Layout& layout, const CommonWeek& week, const Pack& extras) {
  Plan plan;
  set_heading(plan, candidate_, knowledge_, as_of_);
  plan.minutes_available = planner_->available_minutes();
  if (!refused_.empty()) {
    plan.refused.push_back(refused_);
    write_cautions(plan, Season{}, *planner_, candidate_, knowledge_, history_);
    return plan;
  }
  plan.without_training = planner_->outlook(planner_->holding());
  const Season made = season(layout, week, extras);
  plan.outlook = planner_->outlook(made.dosage);
  plan.minutes_per_week = made.minutes_per_week;
  plan.enough = holds(plan.outlook, candidate_.target);
  write_weeks(plan, made, *planner_, candidate_, knowledge_, as_of_, history_);
  plan.yield = yield_rows(*planner_, candidate_, knowledge_);
  write_cautions(plan, made, *planner_, candidate_, knowledge_, history_);
  return plan;
}

}  // namespace backplan

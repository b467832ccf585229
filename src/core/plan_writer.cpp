#include "core/plan_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "backplan/evidence.hpp"
#include "backplan/numeric.hpp"
#include "backplan/prescription.hpp"
#include "backplan/score.hpp"
#include "backplan/suited.hpp"
#include "core/absence.hpp"
#include "core/proven.hpp"

namespace backplan {
namespace {

constexpr int kFirmWeeks = 2;       // loads of later weeks are provisional
constexpr int kLastMonthWeeks = 5;  // the taper and the four weeks before it
constexpr double kPaysAtLeast = 0.05;
// Of every three weeks one has a graded hold and another one a timed course (judgement).
constexpr int kShowingWeeks = 3;
constexpr int kHoldShownIn = 0, kCourseShownIn = 1;  // weeks to the test, left over by kShowingWeeks

struct Run {
  Date date;
  Metres distance;
};

class Writer {
 public:
  Writer(Plan& plan, const Season& season, const SeasonPlanner& planner, const Candidate& candidate,
         const Knowledge& knowledge, Date as_of, const History& history)
      : plan_(plan),
        season_(season),
        planner_(planner),
        candidate_(candidate),
        knowledge_(knowledge),
        as_of_(as_of),
        so_far_(planner.holding()),
        absence_(planner.calendar().kinds(), history, knowledge.model, knowledge.rules, as_of) {
    base_.candidate = &candidate;
    base_.standard = &knowledge.standard;
    base_.model = &knowledge.model;
    base_.run_growth = knowledge.rules.longest_run_growth;
    base_.run_floor = knowledge.rules.longest_run_floor;
    base_.proven = proven_results(candidate, knowledge.standard, knowledge.model, history, as_of);
    note_stale(history);
    note_goals();
    note_pays();
  }

  void run() {
    int training_week = 0;
    for (const SeasonWeek& week : season_.weeks) {
      PlannedWeek out;
      out.index = week.index;
      out.starts = day_at(week.first).date;
      out.days_long = week.count;
      out.phase = week.phase;
      out.minutes = week.minutes;
      out.provisional = training_week >= kFirmWeeks;
      write_days(out, week, training_week);
      for (std::size_t e = 0; e < so_far_.s.size(); ++e) {
        so_far_.s[e] += week.column.s[e];
        so_far_.loss[e] += week.column.loss[e];
        out.milestones.push_back(
            {planner_.states()[e].event->id, expected(e, out.starts + Days(week.count))});
      }
      if (week.phase != Phase::blocked) ++training_week;
      plan_.weeks.push_back(std::move(out));
    }
  }

 private:
  [[nodiscard]] const CalendarDay& day_at(int i) const {
    return planner_.calendar().days()[static_cast<std::size_t>(i)];
  }

  // By the work so far, on the morning of a day: what a blocked spell has cost by then counts, not what is
  // left of it on test day.
  [[nodiscard]] double expected(std::size_t e, Date on) const {
    const EventState& state = planner_.states()[e];
    const double v = state.mean(so_far_.s[e], so_far_.loss[e]) + state.fixed_loss - planner_.gap_loss(e, on);
    return result_of(v, state.event->direction);
  }

  // Of several events of one model the first sets loads and paces.
  [[nodiscard]] bool sets_work(std::size_t e) const {
    const EventState& state = planner_.states()[e];
    const Event* first = knowledge_.standard.first_of_model(state.model->id);
    return first != nullptr && first->id == state.event->id;
  }

  // What was shown too long ago proves nothing: until there is a newer result, work starts from the lower end
  // of what is likely, and is capped by it.
  void note_stale(const History& history) {
    lower_.assign(planner_.states().size(), 0.0);
    const auto stale =
        stale_results(candidate_, history.entries, knowledge_.standard, knowledge_.model, as_of_);
    for (std::size_t e = 0; e < lower_.size(); ++e) {
      const EventState& state = planner_.states()[e];
      if (!sets_work(e) || std::none_of(stale.begin(), stale.end(),
                                        [&](const StaleResult& one) { return one.event == state.event->id; }))
        continue;
      double variance = 0.0;
      for (const auto& node : state.nodes) variance += node.weight * node.var_v0;
      lower_[e] = numeric::kZ80 * std::sqrt(variance);
      const auto proven = base_.proven.find(state.model->id);
      if (proven == base_.proven.end()) continue;
      const Direction direction = state.event->direction;
      proven->second =
          result_of(std::min(ability_of(proven->second, direction), state.v0 - lower_[e]), direction);
    }
  }

  // The level that prescriptions start from.
  [[nodiscard]] double working_level(std::size_t e, Date on) const {
    const Direction direction = planner_.states()[e].event->direction;
    return result_of(ability_of(expected(e, on), direction) - lower_[e], direction);
  }

  void note_goals() {
    const auto& events = plan_.outlook.events;
    for (std::size_t e = 0; e < events.size(); ++e) {
      const EventState& state = planner_.states()[e];
      if (!sets_work(e)) continue;
      const std::optional<Points> wanted = candidate_.target.asked_of(events[e].event);
      double goal = events[e].test_day_result;
      if (wanted) {
        if (const auto row = state.scale->row_for(*wanted)) {
          if (!state.scale->at_least(goal, row->result)) goal = row->result;
        }
      }
      base_.goal[state.model->id] = goal;
      base_.goal_in_reach[state.model->id] = state.scale->at_least(events[e].test_day_high80, goal);
    }
  }

  // What each kind of work brings by the test: the gain of each event shared by stimulus.
  void note_pays() {
    const auto& kinds = planner_.calendar().kinds();
    std::vector<double> used(kinds.size(), 0.0);
    for (const SeasonWeek& week : season_.weeks) {
      for (std::size_t k = 0; k < kinds.size(); ++k) {
        const KindCount& n = week.column.pack.kinds[k];
        used[k] += n.full * kinds[k]->full.stimulus + n.shorter * kinds[k]->shorter.stimulus +
                   (kinds[k]->home ? n.home * kinds[k]->home->stimulus : 0.0);
      }
    }
    pays_.resize(kinds.size());
    for (std::size_t e = 0; e < planner_.states().size(); ++e) {
      const EventState& state = planner_.states()[e];
      const double gained =
          plan_.outlook.events[e].expected_points - plan_.without_training.events[e].expected_points;
      const auto share = [&](std::size_t k) {
        const auto found = kinds[k]->transfer.find(state.model->id);
        return found == kinds[k]->transfer.end() ? 0.0 : found->second * used[k];
      };
      double all = 0.0;
      for (std::size_t k = 0; k < kinds.size(); ++k) all += share(k);
      for (std::size_t k = 0; k < kinds.size() && all > 0.0; ++k) {
        const double points = gained * share(k) / all;
        if (points >= kPaysAtLeast) pays_[k].emplace_back(state.event->id, points);
      }
    }
    for (auto& list : pays_) {
      std::stable_sort(list.begin(), list.end(),
                       [](const auto& a, const auto& b) { return a.second > b.second; });
    }
  }

  [[nodiscard]] Metres longest_run_before(Date date) const {
    Metres longest{0.0};
    if (candidate_.now.longest_run && (date - as_of_).count() <= knowledge_.rules.longest_run_days) {
      longest = *candidate_.now.longest_run;
    }
    for (const Run& run : runs_) {
      if ((date - run.date).count() <= knowledge_.rules.longest_run_days && run.date < date) {
        longest = std::max(longest, run.distance);
      }
    }
    return longest;
  }

  void write_days(PlannedWeek& out, const SeasonWeek& week, int training_week) {
    std::map<int, int> nth;
    bool graded = week.phase == Phase::build && week.index % kShowingWeeks == kHoldShownIn;
    for (int i = 0; i < week.count; ++i) {
      const CalendarDay& info = day_at(week.first + i);
      PlannedDay day;
      day.date = info.date;
      day.slot_minutes = info.slot;
      day.session_minutes = week.days[static_cast<std::size_t>(i)].session;
      if (!info.blocked) {
        day.fixed = info.fixed_name;
        day.fixed_minutes = info.fixed_minutes;
        day.fixed_distance = info.fixed_distance;
      }
      note_day(day);
      if (is_practice_test(day.date)) absence_.tested(day.date);
      for (const PlacedBlock& block : in_order(week.days[static_cast<std::size_t>(i)].blocks)) {
        day.blocks.push_back(write_block(block, info, week, training_week, nth, graded));
      }
      for (const Block& block : day.blocks) {
        if (block.continuous_run) runs_.push_back({day.date, *block.continuous_run});
      }
      if (info.fixed_run > Metres(0.0)) runs_.push_back({day.date, info.fixed_run});
      if (!day.blocks.empty() || !day.fixed.empty() || !day.note.empty()) out.days.push_back(std::move(day));
    }
  }

  [[nodiscard]] bool is_practice_test(Date date) const {
    return std::count(candidate_.diagnostics.begin(), candidate_.diagnostics.end(), date) > 0;
  }

  void note_day(PlannedDay& day) const {
    constexpr int kWalkThroughBefore = 3;  // days before a test that leaves no time to train: ours
    const auto to_test = (candidate_.test_date - day.date).count();
    if (is_practice_test(day.date)) {
      day.note = "practice test: the whole test, graded; log every result";
    } else if (to_test <= knowledge_.rules.no_training_days_before_test) {
      day.note =
          day.fixed.empty()
              ? "no training: rest, eat, sleep, lay out the kit"
              : "ask the unit to move what is fixed for today; else: rest, eat, sleep, lay out the kit";
    } else if (to_test == kWalkThroughBefore && planner_.too_late()) {
      day.note =
          "fifteen easy minutes: walk through the events, the deadlift attempts and the run splits; nothing "
          "hard";
    }
  }

  // Strength before running; home blocks last.
  [[nodiscard]] std::vector<PlacedBlock> in_order(std::vector<PlacedBlock> blocks) const {
    const auto rank = [&](const PlacedBlock& block) {
      const WorkKind& kind = *planner_.calendar().kinds()[static_cast<std::size_t>(block.kind)];
      if (block.size == BlockSize::home) return 9;
      if (kind.family == "lift") return 0;
      if (kind.family == "throw") return 1;
      if (kind.family == "shuttle") return 2;
      if (kind.family == "press") return block.rehearsal ? 0 : 3;
      if (kind.family == "drill") return 2;
      if (kind.running || kind.family == "pieces") return 4;
      return 5;
    };
    std::stable_sort(blocks.begin(), blocks.end(),
                     [&](const PlacedBlock& a, const PlacedBlock& b) { return rank(a) < rank(b); });
    return blocks;
  }

  // After weeks in which it could not be done, or in which it was not.
  [[nodiscard]] bool comes_back(int kind, Date date) const {
    const bool lift = planner_.calendar().kinds()[static_cast<std::size_t>(kind)]->family == "lift";
    const int gently = lift ? knowledge_.rules.form_days_back : knowledge_.rules.easy_days_back;
    const auto could = planner_.calendar().days_back(kind, date);
    const auto did = absence_.days_back(static_cast<std::size_t>(kind), date);
    return (could && *could < gently) || (did && *did < gently);
  }

  Block write_block(const PlacedBlock& placed, const CalendarDay& info, const SeasonWeek& week,
                    int training_week, std::map<int, int>& nth, bool& graded) {
    const WorkKind& kind = *planner_.calendar().kinds()[static_cast<std::size_t>(placed.kind)];
    Situation now = base_;
    now.date = info.date;
    now.phase = week.phase;
    now.weeks_to_test = week.index;
    now.training_week = training_week;
    now.nth_this_week = nth[placed.kind]++;
    const bool postpartum = candidate_.medical.status == MedicalStatus::postpartum;
    now.coming_back = comes_back(placed.kind, info.date);
    absence_.done(static_cast<std::size_t>(placed.kind), info.date);
    now.form_first = now.coming_back || (candidate_.trains_as() == Background::new_to_training &&
                                         training_week < kFormFirstWeeks);
    const bool at_home = placed.size == BlockSize::home;
    now.rehearsal = placed.rehearsal ||
                    (kind.family == "shuttle" && !at_home && week.index % kShowingWeeks == kCourseShownIn &&
                     now.nth_this_week == 0 && week.phase == Phase::build && !now.form_first && !postpartum);
    if (kind.family == "hold" && !at_home && graded && !now.form_first && !postpartum) {
      now.graded_hold = true;
      graded = false;
    }
    now.top_triple = kind.family == "lift" && week.index <= kLastMonthWeeks && week.index % 2 == 0 &&
                     now.nth_this_week == 0 && week.phase == Phase::build && !postpartum && !now.form_first;
    for (std::size_t e = 0; e < planner_.states().size(); ++e) {
      if (sets_work(e)) now.expected[planner_.states()[e].model->id] = working_level(e, info.date);
    }
    now.longest_run = longest_run_before(info.date);
    now.pays = pays_[static_cast<std::size_t>(placed.kind)];
    Block block = prescribe(kind, placed.size, now);
    block.rehearsal = now.rehearsal;
    return block;
  }

  Plan& plan_;
  const Season& season_;
  const SeasonPlanner& planner_;
  const Candidate& candidate_;
  const Knowledge& knowledge_;
  Date as_of_;
  Dosage so_far_;
  Situation base_;
  Absence absence_;
  std::vector<Run> runs_;
  std::vector<double> lower_;  // by event, in v: how far prescriptions stay under what is expected
  std::vector<std::vector<std::pair<std::string, double>>> pays_;
};

}  // namespace

void write_weeks(Plan& plan, const Season& season, const SeasonPlanner& planner, const Candidate& candidate,
                 const Knowledge& knowledge, Date as_of, const History& history) {
  Writer(plan, season, planner, candidate, knowledge, as_of, history).run();
}

void write_assumptions(Plan& plan, const Candidate& candidate, const Knowledge& knowledge) {
  for (const std::string& text : candidate.defaulted) {
    plan.assumptions.push_back({"candidate", text, "not given in candidate.json", Status::judgement});
  }
  for (const Assumption& one : knowledge.model.assumptions) plan.assumptions.push_back(one);
  for (const Assumption& one : knowledge.rules.assumptions) plan.assumptions.push_back(one);
}

bool holds(const Outlook& outlook, const Target& target) {
  return outlook.p_target >= target.confidence && outlook.p_pass >= target.pass_confidence;
}

}  // namespace backplan

#include "core/plan_writer.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "backplan/evidence.hpp"
#include "backplan/prescription.hpp"
#include "backplan/score.hpp"
#include "core/proven.hpp"

namespace backplan {
namespace {

constexpr int kFirmWeeks = 2;       // loads of later weeks are provisional
constexpr int kLastMonthWeeks = 5;  // the taper and the four weeks before it
constexpr double kPaysAtLeast = 0.05;

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
        so_far_(planner.holding()) {
    base_.candidate = &candidate;
    base_.standard = &knowledge.standard;
    base_.model = &knowledge.model;
    base_.run_growth = knowledge.rules.longest_run_growth;
    base_.run_floor = knowledge.rules.longest_run_floor;
    base_.proven = proven_results(candidate, knowledge.standard, knowledge.model, history, as_of);
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
        out.milestones.push_back({planner_.states()[e].event->id, expected(e)});
      }
      if (week.phase != Phase::blocked) ++training_week;
      plan_.weeks.push_back(std::move(out));
    }
  }

 private:
  [[nodiscard]] const CalendarDay& day_at(int i) const {
    return planner_.calendar().days()[static_cast<std::size_t>(i)];
  }

  [[nodiscard]] double expected(std::size_t e) const {
    const EventState& state = planner_.states()[e];
    return result_of(state.mean(so_far_.s[e], so_far_.loss[e]), state.event->direction);
  }

  // Of several events of one model the first sets loads and paces.
  [[nodiscard]] bool sets_work(std::size_t e) const {
    const EventState& state = planner_.states()[e];
    const Event* first = knowledge_.standard.first_of_model(state.model->id);
    return first != nullptr && first->id == state.event->id;
  }

  void note_goals() {
    const auto& events = plan_.outlook.events;
    for (std::size_t e = 0; e < events.size(); ++e) {
      const EventState& state = planner_.states()[e];
      if (!sets_work(e)) continue;
      std::optional<Points> wanted = candidate_.target.each;
      if (const auto own = candidate_.target.events.find(events[e].event);
          own != candidate_.target.events.end()) {
        wanted = own->second;
      }
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
    bool graded = week.phase == Phase::build && week.index % 3 == 0;
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

  void note_day(PlannedDay& day) const {
    const auto to_test = (candidate_.test_date - day.date).count();
    if (std::count(candidate_.diagnostics.begin(), candidate_.diagnostics.end(), day.date) > 0) {
      day.note = "practice test: the whole test, graded; log every result";
    } else if (to_test == 1) {
      day.note = "no training: rest, eat, sleep, lay out the kit";
    } else if (to_test == 3 && planner_.too_late()) {
      day.note =
          "fifteen easy minutes: walk through the events, the deadlift attempts and the run splits; nothing "
          "hard";
    }
  }

  // Strength before running; home blocks last.
  [[nodiscard]] std::vector<PlacedBlock> in_order(std::vector<PlacedBlock> blocks) const {
    const auto rank = [&](const PlacedBlock& block) {
      const WorkKind& kind = *planner_.calendar().kinds()[static_cast<std::size_t>(block.kind)];
      if (block.size == 2) return 9;
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
    now.form_first =
        (candidate_.background == Background::new_to_training || postpartum) && training_week < 2;
    now.rehearsal = placed.rehearsal ||
                    (kind.family == "shuttle" && placed.size < 2 && week.index % 3 == 1 &&
                     now.nth_this_week == 0 && week.phase == Phase::build && !now.form_first && !postpartum);
    if (kind.family == "hold" && placed.size < 2 && graded && !now.form_first && !postpartum) {
      now.graded_hold = true;
      graded = false;
    }
    now.top_triple = kind.family == "lift" && week.index <= kLastMonthWeeks && week.index % 2 == 0 &&
                     now.nth_this_week == 0 && week.phase == Phase::build && !postpartum && !now.form_first;
    for (std::size_t e = 0; e < planner_.states().size(); ++e) {
      if (sets_work(e)) now.expected[planner_.states()[e].model->id] = expected(e);
    }
    now.longest_run = longest_run_before(info.date);
    now.pays = pays_[static_cast<std::size_t>(placed.kind)];
    const BlockSize size =
        placed.size == 0 ? BlockSize::full : (placed.size == 1 ? BlockSize::shorter : BlockSize::home);
    Block block = prescribe(kind, size, now);
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
  std::vector<Run> runs_;
  std::vector<std::vector<std::pair<std::string, double>>> pays_;
};

bool has_runs(const Season& season, const Calendar& calendar) {
  const auto runs = [&](const PlacedBlock& block) {
    return calendar.kinds()[static_cast<std::size_t>(block.kind)]->running;
  };
  for (const SeasonWeek& week : season.weeks) {
    for (const PlacedDay& day : week.days) {
      if (std::any_of(day.blocks.begin(), day.blocks.end(), runs)) return true;
    }
  }
  return false;
}

void caution_of_medical(const Candidate& candidate, const Rules& rules, std::vector<std::string>& out) {
  const Medical& medical = candidate.medical;
  if (medical.status == MedicalStatus::profile && medical.until) {
    const auto length = medical.since ? (*medical.until - *medical.since).count() : 45;
    const auto recovery =
        std::min<long>(static_cast<long>(rules.profile_recovery_factor * static_cast<double>(length)),
                       rules.profile_recovery_most_days);
    if ((candidate.test_date - *medical.until).count() < recovery) {
      out.push_back(
          fmt::format("The test falls inside the {} days of recovery after the profile{}. Ask whether a "
                      "record test may be held then; verify the rule.",
                      recovery, medical.since ? "" : " (its start is not known: the longest time is taken)"));
    }
    out.push_back("Until the profile ends, only what it expressly permits is planned.");
  }
  if (medical.status == MedicalStatus::postpartum) {
    out.push_back(
        "After pregnancy: planned as new to training, without maximal tests. Record tests are exempt for a "
        "year; ask the medical and postpartum programme staff.");
  }
}

}  // namespace

void write_weeks(Plan& plan, const Season& season, const SeasonPlanner& planner, const Candidate& candidate,
                 const Knowledge& knowledge, Date as_of, const History& history) {
  Writer(plan, season, planner, candidate, knowledge, as_of, history).run();
}

void write_given_up(Plan& plan, const Season& season, const SeasonPlanner& planner) {
  // An event is given up when its usual build week stays under the keep dose.
  const SeasonWeek* usual = nullptr;
  std::size_t usual_at = 0;
  for (std::size_t w = 0; w < season.weeks.size(); ++w) {
    const SeasonWeek& week = season.weeks[w];
    if (week.phase != Phase::build || !week.full) continue;
    if (usual == nullptr || week.minutes > usual->minutes) {
      usual = &week;
      usual_at = w;
    }
  }
  if (usual == nullptr) return;
  const Segment& segment = planner.segments()[usual_at];
  std::vector<std::pair<double, GivenUp>> found;
  for (std::size_t e = 0; e < planner.states().size(); ++e) {
    if (segment.counted[e] <= 0.0 || usual->column.loss[e] <= 1e-9) continue;
    const EventState& state = planner.states()[e];
    std::string work;
    for (const WorkKind* kind : planner.calendar().kinds()) {
      if (kind->trains == state.model->id && work.empty()) work = kind->id;
    }
    const double cost =
        plan.without_training.events[e].expected_points - plan.outlook.events[e].expected_points;
    GivenUp given;
    given.event = state.event->id;
    given.work = work;
    given.why = fmt::format(
        "the usual week stays under the dose that keeps the {}: it slips by about {:.1f} % a week; its "
        "minutes bring more elsewhere",
        state.event->name, 100.0 * usual->column.loss[e] / segment.counted[e]);
    found.emplace_back(cost, given);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  for (const auto& [cost, given] : found) plan.given_up.push_back(given);
}

void write_cautions(Plan& plan, const Season& season, const SeasonPlanner& planner,
                    const Candidate& candidate, const Knowledge& knowledge) {
  auto& out = plan.cautions;
  out.push_back("This is no medical advice. The official manual, your unit and licensed staff come first.");
  out.push_back(
      "Pain stops the work. Chest pain, collapse, confusion in heat, a numb leg or dark urine: stop and get "
      "emergency care.");
  if (has_runs(season, planner.calendar())) {
    out.push_back(
        "Heat: follow the unit's heat category; move hard runs to the cool hours and cut repetitions; no "
        "timed runs in category 4 or 5.");
  }
  for (const EventOutlook& event : plan.outlook.events) {
    if (!event.measured) {
      out.push_back(
          fmt::format("{} was never measured: its figures are a broad guess from the scale. One honest "
                      "attempt helps more than any plan.",
                      event.event));
    }
  }
  caution_of_medical(candidate, knowledge.rules, out);
  if (planner.too_late()) {
    out.push_back(
        "Fewer than eight days are left: training now costs more than it brings. Rest, one short "
        "walk-through, the test-day sheet.");
  }
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

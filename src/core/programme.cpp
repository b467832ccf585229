#include "backplan/programme.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <stdexcept>

#include "backplan/check.hpp"
#include "backplan/morning.hpp"
#include "core/coming_back.hpp"
#include "core/plan_start.hpp"
#include "core/plan_writer.hpp"
#include "core/programme_parts.hpp"

namespace backplan {
namespace {

// Patterns that are compared, and people whose own best weeks give them; a large squad has many alike
// (judgement: what more would bring was under a hundredth of the gain).
constexpr std::size_t kMostPatterns = 40, kMostPatternsOfMany = 24;
constexpr std::size_t kMany = 40;
constexpr std::size_t kMostModels = 12;
constexpr int kTighterRounds = 3;                           // of the capacities, when mornings overflow
constexpr double kSharePlanners = 0.3, kShareValues = 0.8;  // of the whole work, for the progress

class Maker {
 public:
  Maker(const Squad& squad, const Knowledge& knowledge, Date as_of, const std::vector<History>& histories,
        const ProgrammeOptions& options)
      : squad_(squad), knowledge_(knowledge), as_of_(as_of), histories_(histories), options_(options) {}

  Programme run() {
    set_heading();
    fit_members();
    week_ = std::make_unique<CommonWeek>(squad_, knowledge_);
    lanes_ = lanes_of_week(*week_, squad_);
    list_layouts();
    set_problem();
    value_members();
    out_.shortfalls = shortfalls_of(problem_, layouts_, lanes_, squad_, knowledge_);
    for (int round = 0; round < kTighterRounds; ++round) {
      choose();
      plan_members();
      if (!overflows(round + 1 < kTighterRounds)) break;
    }
    finish();
    progress(1.0);
    return std::move(out_);
  }

 private:
  void progress(double share) const {
    if (options_.progress) options_.progress(share);
  }

  [[nodiscard]] bool is_done(const Candidate& candidate) const { return candidate.test_date < as_of_; }

  [[nodiscard]] const History& history_of_member(std::size_t i) const {
    static const History kNone;
    return i < histories_.size() ? histories_[i] : kNone;
  }

  void set_heading() {
    out_.squad = squad_.id;
    out_.as_of = as_of_;
    out_.test_date = squad_.test_date;
    out_.standard = knowledge_.standard.id;
    out_.standard_hash = knowledge_.standard.content_hash;
    out_.model_hash = defaults_hash(knowledge_.model, knowledge_.rules);
    out_.goal = squad_.goal;
    out_.confidence = squad_.confidence;
  }

  // Nobody's own log moves the own prior twice: each prior is moved by what the others' logs say.
  void fit_members() {
    const bool any_log = std::any_of(histories_.begin(), histories_.end(),
                                     [](const History& history) { return !history.empty(); });
    std::vector<Fit> fits;
    if (squad_.pooling && any_log) {
      for (std::size_t i = 0; i < squad_.members.size(); ++i) {
        Candidate one = squad_.members[i].candidate;
        one.test_date = std::max(one.test_date, as_of_);  // logs teach after the own test, too
        fits.push_back(fit_history(one, knowledge_.standard, knowledge_.model, as_of_, history_of_member(i)));
      }
      out_.pooled = pool(fits);
    }
    for (std::size_t i = 0; i < squad_.members.size(); ++i) {
      if (is_done(squad_.members[i].candidate)) {
        planners_.push_back(nullptr);
        continue;
      }
      if (!out_.pooled.empty())
        models_.push_back(std::make_unique<Model>(moved(knowledge_.model, pool(fits, static_cast<int>(i)))));
      const Knowledge own{knowledge_.standard, models_.empty() ? knowledge_.model : *models_.back(),
                          knowledge_.rules};
      planners_.push_back(std::make_unique<MemberPlanner>(squad_.members[i].candidate, own, as_of_,
                                                          history_of_member(i), tables_));
      progress(kSharePlanners * static_cast<double>(i + 1) / static_cast<double>(squad_.members.size()));
    }
    for (std::size_t i = 0; i < planners_.size(); ++i) {
      if (planners_[i] && planners_[i]->refused().empty()) active_.push_back(i);
    }
  }

  void add_layout(const Layout& layout) {
    const bool known = std::any_of(layouts_.begin(), layouts_.end(),
                                   [&](const Layout& other) { return other.pattern == layout.pattern; });
    if (!known) layouts_.push_back(layout);
  }

  void list_layouts() {
    for (const Group& group : options_.kept) {
      if (const auto layout = week_->layout_of(group.pattern)) add_layout(*layout);
    }
    std::vector<std::vector<Layout>> found;
    for (const std::size_t i : unlike_people(planners_, active_, kMostModels)) {
      const MemberPlanner& one = *planners_[i];
      const auto& model = knowledge_.model;
      found.push_back(
          week_->layouts_for(one.states(), one.prices(), one.hard_limit(), one.intervals_limit()));
      const Prices usual =
          prices_of(one.states(), one.candidate(), knowledge_, as_of_, model.value.below_minimum_cost);
      found.push_back(week_->layouts_for(one.states(), usual, one.hard_limit(), one.intervals_limit()));
    }
    // First one layout of every pack, then the others, as far as there is room.
    const std::size_t most = active_.size() > kMany ? kMostPatternsOfMany : kMostPatterns;
    for (std::size_t nth = 0; nth < 3; ++nth) {
      for (const auto& layouts : found) {
        if (nth < layouts.size() && layouts_.size() < most) add_layout(layouts[nth]);
      }
    }
    if (layouts_.empty()) layouts_.push_back(week_->laid_out(Pack{}).front());
  }

  void set_problem() {
    problem_.people = active_.size();
    problem_.patterns = layouts_.size();
    problem_.lanes = lanes_.size();
    problem_.most_patterns = squad_.most_groups;
    problem_.exactly = squad_.exactly && active_.size() >= static_cast<std::size_t>(squad_.most_groups) &&
                       layouts_.size() >= static_cast<std::size_t>(squad_.most_groups);
    for (const LaneOfWeek& lane : lanes_)
      problem_.capacity.push_back(static_cast<double>(kPeopleALane * lane.lanes));
    for (const Layout& layout : layouts_) {
      for (const LaneOfWeek& lane : lanes_) {
        const int minutes = squad_.mornings[static_cast<std::size_t>(lane.weekday)];
        const int waves = waves_for(layout.pattern, lane, minutes, knowledge_);
        problem_.use.push_back(waves == 0 ? 0.0 : 1.0 / waves);
      }
    }
    for (const std::size_t i : active_) problem_.needs.push_back(planners_[i]->needs_lanes() ? 1 : 0);
  }

  [[nodiscard]] std::vector<std::string> active_ids() const {
    std::vector<std::string> ids;
    for (const std::size_t i : active_) ids.push_back(squad_.members[i].candidate.id);
    return ids;
  }

  void value_members() {
    std::size_t done = 0;
    staying_ = staying(options_.kept, layouts_, active_ids(), worth_moving());
    for (const std::size_t i : active_) {
      for (const Layout& layout : layouts_)
        staying_.worth.push_back(planners_[i]->value(layout, *week_, squad_.goal));
      out_.gain -= planners_[i]->value_without_training(squad_.goal);
      progress(kSharePlanners + (kShareValues - kSharePlanners) * static_cast<double>(++done) /
                                    static_cast<double>(active_.size()));
    }
    problem_.value = staying_.worth;
    prefer_the_kept(staying_, problem_);
  }

  void choose() {
    choose_once();
    while (choice_.possible && hold_back(staying_, choice_, problem_)) choose_once();
  }

  void choose_once() {
    if (options_.on_choice) options_.on_choice(problem_);
    choice_ = choose_patterns(problem_);
    // Without any lane that fits, the pattern that asks for none is left.
    if (!choice_.possible && !active_.empty()) {
      layouts_.push_back(week_->laid_out(without_lanes(layouts_.front().pack)).front());
      set_problem_again();
      choice_ = choose_patterns(problem_);
    }
    // So many groups as asked may be more than the lanes hold; fewer always can be.
    if (!choice_.possible && problem_.exactly) {
      problem_.exactly = false;
      fewer_groups_ = true;
      choice_ = choose_patterns(problem_);
    }
    if (!choice_.possible && !active_.empty())
      throw std::logic_error("a week without any shared lane does not fit the lanes");
  }

  [[nodiscard]] Pack without_lanes(Pack pack) const {
    for (std::size_t k = 0; k < week_->calendar().kinds().size(); ++k) {
      if (!lane_word(*week_->calendar().kinds()[k]).empty()) pack.kinds[k] = {};
    }
    return pack;
  }

  void set_problem_again() {
    const std::vector<double> capacity = problem_.capacity;
    problem_ = {};
    set_problem();
    problem_.capacity = capacity;
    out_.gain = 0.0;
    value_members();
  }

  void plan_members() {
    out_.groups = named_groups(options_.kept, layouts_, choice_.pattern_of, active_ids());
    out_.people.clear();
    std::size_t a = 0;
    for (std::size_t i = 0; i < planners_.size(); ++i) {
      Person person;
      person.id = squad_.members[i].candidate.id;
      person.display = squad_.members[i].display;
      person.test_date = squad_.members[i].candidate.test_date;
      person.candidate = squad_.members[i].candidate;
      person.done = planners_[i] == nullptr;
      if (!person.done) {
        const bool planned = planners_[i]->refused().empty();
        plan_member(person, *planners_[i], layouts_[planned ? choice_.pattern_of[a++] : 0]);
      }
      if (is_planned(person)) note_stale(person, history_of_member(i));
      out_.people.push_back(std::move(person));
      progress(kShareValues +
               (1.0 - kShareValues) * static_cast<double>(i + 1) / static_cast<double>(planners_.size() + 1));
    }
  }

  void note_stale(Person& person, const History& history) const {
    for (std::string& one : cautions_of(
             stale_results(person.candidate, history.entries, knowledge_.standard, knowledge_.model, as_of_)))
      person.notes.push_back(std::move(one));
  }

  void plan_member(Person& person, MemberPlanner& planner, const Layout& layout) const {
    person.refused = planner.refused();
    Pack extras;
    if (person.refused.empty())
      extras = planner.extras(layout, *week_, knowledge_.rules.squad.extras_a_week, squad_.goal,
                              squad_.confidence);
    person.plan = planner.plan(layout, *week_, extras);
    person.candidate = planner.candidate();
    if (person.refused.empty() && none_permitted(person.candidate, placeable(knowledge_), as_of_))
      person.notes.emplace_back("nothing is permitted for now: ask the medical staff what is");
    if (person.refused.empty()) note_substitutes(person, planner.restrictions(layout), layout, knowledge_);
    for (const Group& group : out_.groups) {
      if (std::count(group.members.begin(), group.members.end(), person.id) > 0) person.group = group.id;
    }
    describe_person(person);
  }

  // Schedules every morning. True: some had too few lanes, and the capacities were tightened for another try.
  bool overflows(bool may_tighten) {
    out_.mornings.clear();
    std::map<std::pair<int, std::string>, int> over;
    for (Date date = as_of_; date < last_test(); date += Days(1)) {
      MorningTask task{date,
                       0,
                       squad_.equipment,
                       squad_.members.front().candidate.equipment,
                       knowledge_.model,
                       knowledge_.rules,
                       {}};
      for (const Person& person : out_.people) {
        const PlannedDay* day = day_of(person.plan, date);
        if (day == nullptr || day->session_minutes == 0) continue;
        task.minutes = std::max(task.minutes, day->slot_minutes);
        task.people.push_back({person.id, day});
      }
      if (task.people.empty()) continue;
      std::vector<Overflow> overflow;
      out_.mornings.push_back(schedule_morning(task, overflow));
      for (const Overflow& one : overflow) {
        int& most = over[{weekday_index(date), one.lane}];
        most = std::max(most, one.people);
      }
    }
    if (over.empty() || !may_tighten) return false;
    for (std::size_t l = 0; l < lanes_.size(); ++l) {
      const auto found = over.find({lanes_[l].weekday, lanes_[l].word});
      if (found != over.end()) problem_.capacity[l] = std::max(0.0, problem_.capacity[l] - found->second);
    }
    return true;
  }

  [[nodiscard]] Date last_test() const {
    Date last = squad_.test_date;
    for (const Member& member : squad_.members) last = std::max(last, member.candidate.test_date);
    return last;
  }

  static const PlannedDay* day_of(const Plan& plan, Date date) {
    for (const PlannedWeek& week : plan.weeks) {
      if (date < week.starts || date >= week.starts + Days(week.days_long)) continue;
      for (const PlannedDay& day : week.days) {
        if (day.date == date) return &day;
      }
    }
    return nullptr;
  }

  [[nodiscard]] double worth_moving() const {
    return squad_.goal == SquadGoal::highest_mean ? knowledge_.rules.squad.points_worth_moving
                                                  : knowledge_.rules.squad.failures_worth_moving;
  }

  void finish() {
    std::vector<std::string> now_in;
    for (const std::size_t i : active_) now_in.push_back(out_.people[i].group);
    out_.moves = moves_of(staying_, choice_, options_.kept, layouts_, active_ids(), now_in);
    for (Group& group : out_.groups) group.why = why_of(group, out_.people, knowledge_);
    out_.outlook = outlook_of(out_.people);
    const double offset = without_staying(staying_, choice_);
    out_.optimality = {choice_.value + offset, choice_.bound + offset};
    out_.gain += out_.optimality.value;
    if (auto plates = plates_shortfall(out_.mornings, squad_.members.front().candidate.equipment))
      out_.shortfalls.push_back(*std::move(plates));
    out_.patterns_compared = static_cast<int>(layouts_.size());
    for (const Person& person : out_.people) {
      if (!person.refused.empty()) out_.refused.push_back(fmt::format("{}: {}", person.id, person.refused));
    }
    out_.cautions = squad_cautions(squad_, knowledge_);
    if (out_.mornings.empty() && !active_.empty()) {
      out_.cautions.emplace_back(
          "No common morning holds any training: the mornings are too short, or the test is too near.");
    }
    if (fewer_groups_)
      out_.cautions.push_back(
          fmt::format("{} groups were asked for; the bars and sleds hold fewer.", squad_.most_groups));
    for (const std::string& text : squad_.defaulted)
      out_.assumptions.push_back({"squad", text, "not given in squad.json or roster.csv", Status::judgement});
    for (const Assumption& one : knowledge_.model.assumptions) out_.assumptions.push_back(one);
    for (const Assumption& one : knowledge_.rules.assumptions) out_.assumptions.push_back(one);
    for (const Assumption& one : knowledge_.rules.squad.assumptions) out_.assumptions.push_back(one);
  }

  const Squad& squad_;
  Knowledge knowledge_;
  Date as_of_;
  const std::vector<History>& histories_;
  const ProgrammeOptions& options_;
  std::vector<std::unique_ptr<Model>> models_;
  SharedTables tables_;
  MemberPlanners planners_;
  std::vector<std::size_t> active_;
  std::unique_ptr<CommonWeek> week_;
  std::vector<LaneOfWeek> lanes_;
  std::vector<Layout> layouts_;
  ChoiceProblem problem_;
  Staying staying_;
  Choice choice_;
  bool fewer_groups_ = false;  // than were asked for
  Programme out_;
};

}  // namespace

Programme make_programme(const Squad& squad, const Knowledge& knowledge, Date as_of,
                         const std::vector<History>& histories, const ProgrammeOptions& options) {
  return Maker(squad, knowledge, as_of, histories, options).run();
}

}  // namespace backplan

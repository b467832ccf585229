// Events that a plan lets slip: by how much until the test, and what keeps their work away.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "backplan/suited.hpp"
#include "core/plan_writer.hpp"

namespace backplan {
namespace {

constexpr double kSlipWorthNaming = 0.005;  // of v: half a per cent, under the noise of every event

enum class Hindrance { off, too_short, elsewhere };
constexpr std::size_t kHindrances = 3;

// The work that trains an event, as this person may do it.
class WorkOf {
 public:
  WorkOf(const EventState& state, const SeasonPlanner& planner, const Rules& rules)
      : planner_(planner), rules_(rules) {
    const auto& kinds = planner.calendar().kinds();
    for (std::size_t k = 0; k < kinds.size(); ++k) {
      if (kinds[k]->trains == state.model->id) mine_.push_back(k);
    }
  }

  // Minutes of the shortest session with such work that some day may have; none: it is off on every day.
  [[nodiscard]] std::optional<int> shortest() const {
    std::optional<int> out;
    for (const std::size_t k : mine_) {
      if (!planner_.calendar().ever_allows(k)) continue;
      const int session = session_minutes(rules_, planner_.calendar().kinds()[k]->shorter.minutes, 1);
      out = std::min(out.value_or(session), session);
    }
    return out;
  }

  // What keeps such work out of a week.
  [[nodiscard]] Hindrance in(const SeasonWeek& week) const {
    bool allowed = false;
    for (int i = week.first; i < week.first + week.count; ++i) {
      const CalendarDay& day = planner_.calendar().days()[static_cast<std::size_t>(i)];
      for (const std::size_t k : mine_) {
        if ((day.allowed >> k & 1U) == 0) continue;
        allowed = true;
        const WorkKind& kind = *planner_.calendar().kinds()[k];
        if (day.usable >= kind.shorter.minutes) return Hindrance::elsewhere;
      }
    }
    return allowed ? Hindrance::too_short : Hindrance::off;
  }

 private:
  const SeasonPlanner& planner_;
  const Rules& rules_;
  std::vector<std::size_t> mine_;
};

// Why work is off: the work kinds of the model that train the event, first of all by what is easiest to name.
std::string why_off(const EventState& state, const Candidate& candidate, const Knowledge& knowledge) {
  bool on_profile = false;
  bool avoided = false;
  for (const WorkKind& kind : knowledge.model.work) {
    if (kind.trains != state.model->id || !is_work_for(kind, knowledge.standard)) continue;
    on_profile = on_profile || (candidate.medical.status == MedicalStatus::profile &&
                                candidate.medical.permitted.count(kind.id) == 0);
    avoided = avoided || std::any_of(candidate.avoid.begin(), candidate.avoid.end(),
                                     [&](const Avoid& avoid) { return avoid.work == kind.id; });
  }
  if (on_profile) return "the profile does not permit its work";
  if (avoided) return "its work is to be avoided";
  return "its work cannot be done (kit, blocked days or marches)";
}

// The hindrance of the weeks in which most is lost.
Hindrance main_hindrance(const WorkOf& work, const Season& season, std::size_t e) {
  std::array<double, kHindrances> lost{};
  for (const SeasonWeek& week : season.weeks)
    lost[static_cast<std::size_t>(work.in(week))] += week.column.loss[e];
  return static_cast<Hindrance>(std::max_element(lost.begin(), lost.end()) - lost.begin());
}

std::string reason_of(Hindrance hindrance, const WorkOf& work, const std::string& off) {
  if (hindrance == Hindrance::off || !work.shortest()) return off;
  if (hindrance == Hindrance::elsewhere)
    return "most weeks have less of its work than keeps it, since those minutes bring more elsewhere";
  return fmt::format("no day is long enough for its shortest block: that takes {} minutes with preparation",
                     *work.shortest());
}

}  // namespace

void write_given_up(Plan& plan, const Season& season, const SeasonPlanner& planner,
                    const Candidate& candidate, const Knowledge& knowledge) {
  std::vector<std::pair<double, GivenUp>> found;
  for (std::size_t e = 0; e < planner.states().size(); ++e) {
    const EventState& state = planner.states()[e];
    // What the work of all weeks together does to the level: an event that gains in other weeks what it loses
    // in some is not given up.
    const double slip = state.mean(0.0, 0.0) - state.mean(season.dosage.s[e], season.dosage.loss[e]);
    if (slip < kSlipWorthNaming) continue;
    const WorkOf work(state, planner, knowledge.rules);
    GivenUp given;
    given.event = state.event->id;
    for (const WorkKind* kind : planner.calendar().kinds()) {
      if (kind->trains == state.model->id && given.work.empty()) given.work = kind->id;
    }
    given.why =
        fmt::format("loses about {:.1f} % by the test: {}", 100.0 * slip,
                    reason_of(main_hindrance(work, season, e), work, why_off(state, candidate, knowledge)));
    const double cost =
        plan.without_training.events[e].expected_points - plan.outlook.events[e].expected_points;
    found.emplace_back(cost, given);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  for (const auto& [cost, given] : found) plan.given_up.push_back(given);
}

}  // namespace backplan

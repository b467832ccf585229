// Events that a plan lets slip: by how much until the test, and what keeps their work away.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "backplan/suited.hpp"
#include "backplan/work_off.hpp"
#include "core/plan_writer.hpp"

namespace backplan {
namespace {

constexpr double kSlipWorthNaming = 0.005;  // of v: half a per cent, under the noise of every event

enum class Hindrance { off, too_short, elsewhere, not_needed };
constexpr std::size_t kHindrances = 4;

// The work that trains an event, as this person may do it.
class WorkOf {
 public:
  // `sparing`: the plan takes fewer minutes than there are, since its target holds by them.
  WorkOf(const EventState& state, const SeasonPlanner& planner, const Rules& rules, bool sparing)
      : planner_(planner), rules_(rules), sparing_(sparing) {
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

  // Days on which none of it is possible.
  [[nodiscard]] std::vector<Date> days_off() const {
    std::vector<Date> out;
    for (const CalendarDay& day : planner_.calendar().days()) {
      if (std::none_of(mine_.begin(), mine_.end(),
                       [&](std::size_t k) { return (day.allowed >> k & 1U) != 0; }))
        out.push_back(day.date);
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
        if (day.usable >= kind.shorter.minutes)
          return sparing_ ? Hindrance::not_needed : Hindrance::elsewhere;
      }
    }
    return allowed ? Hindrance::too_short : Hindrance::off;
  }

 private:
  const SeasonPlanner& planner_;
  const Rules& rules_;
  bool sparing_;
  std::vector<std::size_t> mine_;
};

// Why work is off on the days that have none of it, the kinds without kit included.
std::string why_off(const EventState& state, const WorkOf& work, const Candidate& candidate,
                    const Knowledge& knowledge) {
  std::vector<std::string> trains;
  for (const WorkKind& kind : knowledge.model.work) {
    if (kind.trains == state.model->id && is_work_for(kind, knowledge.standard)) trains.push_back(kind.id);
  }
  const Ban ban = main_ban(trains, candidate, work.days_off());
  if (ban.by == OffBy::medical) return ban.why;
  if (ban.by == OffBy::profile) return "the profile does not permit its work";
  if (ban.by == OffBy::avoided) return "its work is to be avoided";
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
  if (hindrance == Hindrance::not_needed) return "the target holds without more of its work";
  if (hindrance == Hindrance::elsewhere)
    return "most weeks have less of its work than keeps it, since those minutes bring more elsewhere";
  return fmt::format("no day is long enough for its shortest block: that takes {} minutes with preparation",
                     *work.shortest());
}

}  // namespace

void write_given_up(Plan& plan, const Season& season, int most_minutes, const SeasonPlanner& planner,
                    const Candidate& candidate, const Knowledge& knowledge) {
  std::vector<std::pair<double, GivenUp>> found;
  const bool sparing = plan.enough && most_minutes < planner.available_minutes();
  for (std::size_t e = 0; e < planner.states().size(); ++e) {
    const EventState& state = planner.states()[e];
    // What the work of all weeks together does to the level: an event that gains in other weeks what it loses
    // in some is not given up.
    const double slip = state.mean(0.0, 0.0) - state.mean(season.dosage.s[e], season.dosage.loss[e]);
    if (slip < kSlipWorthNaming) continue;
    const WorkOf work(state, planner, knowledge.rules, sparing);
    GivenUp given;
    given.event = state.event->id;
    for (const WorkKind* kind : planner.calendar().kinds()) {
      if (kind->trains == state.model->id && given.work.empty()) given.work = kind->id;
    }
    given.why = fmt::format(
        "loses about {:.1f} % by the test: {}", 100.0 * slip,
        reason_of(main_hindrance(work, season, e), work, why_off(state, work, candidate, knowledge)));
    const double cost =
        plan.without_training.events[e].expected_points - plan.outlook.events[e].expected_points;
    found.emplace_back(cost, given);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  for (const auto& [cost, given] : found) plan.given_up.push_back(given);
}

}  // namespace backplan

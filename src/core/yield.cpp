#include <fmt/format.h>

#include <algorithm>

#include "backplan/work_off.hpp"
#include "core/plan_writer.hpp"

namespace backplan {
namespace {

constexpr double kHourWorthNaming = 0.05;  // points an hour
constexpr double kPartOfAPass = 0.005;     // of an event, where one counts 1
// What an hour brings in all weeks, under this share of what it brings now: it wears off (judgement).
constexpr double kWearsOffUnder = 0.75;

// Points of one event after so much S, above holding what there is.
double points_after(const EventState& state, const AbilityScale& scale, double s) {
  double sum = 0.0;
  for (const auto& node : state.nodes) {
    const double mean = state.mean_at(node, s, 0.0);
    sum += node.weight * scale.expected_points(mean, test_day_sd(state, node, s, mean));
  }
  return sum;
}

// Why the work cannot be done on any day that is left. Kinds without kit have no row.
std::string why_impossible(const std::string& work, const Candidate& candidate, const Calendar& calendar) {
  std::vector<Date> days;
  for (const CalendarDay& day : calendar.days()) days.push_back(day.date);
  const Ban ban = main_ban({work}, candidate, days);
  if (ban.by == OffBy::medical) return ban.why;
  if (ban.by == OffBy::profile) return "not among what the profile permits";
  if (ban.by == OffBy::nothing) return "the days that are left do not allow it";
  return ban.why.empty() ? "work to avoid" : ban.why;
}

// `counting`: weeks in which work still earns something by the test.
std::string reason_of(const YieldRow& row, const Standard& standard, double counting,
                      const std::string& impossible) {
  std::vector<std::pair<double, std::string>> parts;
  for (const auto& [event, points] : row.weeks_left) {
    if (points < (standard.pass_or_fail ? kPartOfAPass : kHourWorthNaming)) continue;
    const Event* known = standard.find_event(event);
    parts.emplace_back(points, known != nullptr ? known->name : event);
  }
  std::stable_sort(parts.begin(), parts.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  if (counting <= 0.0) return "too late to gain anything by the test: what is there only has to be held";
  if (parts.empty()) return "little left to gain: what is there only has to be held";
  std::string text = fmt::format("pays in the {}", parts[0].second);
  if (parts.size() > 1) text += fmt::format(", then the {}", parts[1].second);
  if (row.weeks_left_total < kWearsOffUnder * row.now_total) text += "; the first hours bring most";
  if (!impossible.empty()) text += fmt::format("; not possible now ({})", impossible);
  return text;
}

// What an hour of one kind brings. Every kind is asked for the same minutes a week: with a full block of each
// a short kind, whose hours saturate later, would look cheap for events that it hardly feeds.
YieldRow row_of(const WorkKind& kind, const std::vector<EventState>& states, const std::vector<double>& weeks,
                const Category& category) {
  YieldRow row;
  row.work = kind.id;
  const double hours = kYieldStepMinutes / kMinutesPerHour;
  const double stimulus = kind.full.stimulus * kYieldStepMinutes / kind.full.minutes;
  double season = 0.0;
  for (const double w : weeks) season = std::max(season, w);
  for (std::size_t e = 0; e < states.size(); ++e) {
    const EventState& state = states[e];
    const auto found = kind.transfer.find(state.model->id);
    if (found == kind.transfer.end() || found->second <= 0.0 || weeks[e] <= 0.0) continue;
    const AbilityScale scale(*state.scale, pass_minimum(category, *state.event));
    const double gain = dose_gain(state.dose, state.dose.keep + found->second * stimulus);
    const double base = points_after(state, scale, 0.0);
    const double once = points_after(state, scale, std::min(1.0, weeks[e]) * gain) - base;
    const double always = points_after(state, scale, weeks[e] * gain) - base;
    row.now[state.event->id] = once / hours;
    row.weeks_left[state.event->id] = always / (hours * season);
    row.now_total += once / hours;
    row.weeks_left_total += always / (hours * season);
  }
  return row;
}

}  // namespace

std::vector<YieldRow> yield_rows(const SeasonPlanner& planner, const Candidate& candidate,
                                 const Knowledge& knowledge) {
  const Category& category = *knowledge.standard.find_category(candidate.category);
  std::vector<double> weeks(planner.states().size(), 0.0);
  for (const Segment& segment : planner.segments()) {
    for (std::size_t e = 0; e < weeks.size(); ++e) weeks[e] += segment.counted[e];
  }
  const double counting = weeks.empty() ? 0.0 : *std::max_element(weeks.begin(), weeks.end());
  std::vector<YieldRow> rows;
  const auto& kinds = planner.calendar().kinds();
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    YieldRow row = row_of(*kinds[k], planner.states(), weeks, category);
    const std::string impossible =
        planner.calendar().ever_allows(k) ? "" : why_impossible(kinds[k]->id, candidate, planner.calendar());
    row.possible = impossible.empty();
    row.why = reason_of(row, knowledge.standard, counting, impossible);
    rows.push_back(std::move(row));
  }
  std::stable_sort(rows.begin(), rows.end(), [](const YieldRow& a, const YieldRow& b) {
    return a.weeks_left_total > b.weeks_left_total;
  });
  return rows;
}

}  // namespace backplan

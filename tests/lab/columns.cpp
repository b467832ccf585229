#include "lab/columns.hpp"

#include <algorithm>

namespace backplan::lab {

std::vector<double> column(const Cohort& cohort, const Cells& cells, std::size_t way, Figure figure) {
  std::vector<double> out;
  for (std::size_t f = 0; f < cohort.size().families.size(); ++f) {
    if (cells.family && *cells.family != f) continue;
    for (int person = 0; person < cohort.size().people; ++person)
      out.push_back(figure(cohort.at(f, cells.minutes, way, person)));
  }
  return out;
}

std::optional<std::size_t> place_of(const Cohort& cohort, Way way) {
  const auto& ways = cohort.size().ways;
  const auto found = std::find(ways.begin(), ways.end(), way);
  if (found == ways.end()) return std::nullopt;
  return static_cast<std::size_t>(found - ways.begin());
}

double gained(const Outcome& outcome) { return outcome.gained(); }
double passed(const Outcome& outcome) { return outcome.p_pass; }
double reached(const Outcome& outcome) { return outcome.p_target; }
double minutes_done(const Outcome& outcome) { return outcome.minutes; }

std::optional<double> minutes_for_target(const Cohort& cohort, std::size_t way, std::size_t family,
                                         int person) {
  const double target = cohort.target(family, person);
  const auto nothing = place_of(cohort, Way::nothing);
  double before =
      nothing ? cohort.at(family, 0, *nothing, person).total : cohort.at(family, 0, way, person).start;
  double minutes_before = 0.0;
  if (before >= target) return 0.0;
  for (std::size_t m = 0; m < cohort.size().minutes.size(); ++m) {
    const double total = cohort.at(family, m, way, person).total;
    const double minutes = cohort.size().minutes[m];
    if (total >= target)
      return minutes_before + (minutes - minutes_before) * (target - before) / (total - before);
    before = total;
    minutes_before = minutes;
  }
  return std::nullopt;
}

SameTarget same_target(const Cohort& cohort) {
  SameTarget out;
  const auto plan = place_of(cohort, Way::replan_weekly);
  const auto equal = place_of(cohort, Way::equal_split);
  if (!plan || !equal) return out;
  for (std::size_t f = 0; f < cohort.size().families.size(); ++f) {
    for (int person = 0; person < cohort.size().people; ++person) {
      const auto by_plan = minutes_for_target(cohort, *plan, f, person);
      const auto by_equal = minutes_for_target(cohort, *equal, f, person);
      out.only_plan += by_plan && !by_equal ? 1 : 0;
      out.only_equal += by_equal && !by_plan ? 1 : 0;
      if (!by_plan || !by_equal || *by_equal <= 0.0) continue;
      out.plan.push_back(*by_plan);
      out.equal.push_back(*by_equal);
    }
  }
  return out;
}

}  // namespace backplan::lab

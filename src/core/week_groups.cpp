#include "core/week_groups.hpp"

#include <algorithm>
#include <limits>

namespace backplan {
namespace {

constexpr double kBetterWorth = 1e-9;

void add_weeks(DualPoint& point, const Column& column, double worth, int count) {
  point.dual += count * worth;
  for (std::size_t e = 0; e < column.s.size(); ++e) {
    point.week_s[e] += count * column.s[e];
    point.week_loss[e] += count * column.loss[e];
  }
}

}  // namespace

WeekGroups::WeekGroups(const AllocationTask& task) {
  for (std::size_t w = 0; w < task.weeks.size(); ++w) {
    const int own = group_of(task.is_deload[w] ? task.as_deload[w] : task.weeks[w]);
    of_week_.push_back(own);
    groups_[static_cast<std::size_t>(own)].count += 1;
  }
}

int WeekGroups::group_of(const Segment& segment) {
  const auto [at, is_new] = known_.emplace(segment.signature, static_cast<int>(groups_.size()));
  if (is_new) groups_.push_back({&segment, 0, {}});
  return at->second;
}

std::vector<const Column*> WeekGroups::best_in_pools(const PackSearch& search, const Prices& prices,
                                                     bool sure) const {
  std::vector<const Column*> chosen;
  for (const WeekGroup& group : groups_) {
    const Column* best = nullptr;
    double most = -std::numeric_limits<double>::infinity();
    for (const Column& column : group.pool) {
      if (sure && !column.sure) continue;
      const double worth = search.worth(column, prices);
      if (worth <= most + kBetterWorth) continue;
      most = worth;
      best = &column;
    }
    chosen.push_back(best);
  }
  return chosen;
}

void WeekGroups::add_to(DualPoint& point, const PackSearch& search, const Prices& prices,
                        const std::vector<const Column*>& chosen) const {
  for (std::size_t g = 0; g < groups_.size(); ++g)
    add_weeks(point, *chosen[g], search.worth(*chosen[g], prices), groups_[g].count);
}

}  // namespace backplan

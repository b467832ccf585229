#include "core/week_groups.hpp"

#include <algorithm>
#include <limits>
#include <utility>

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
    const int build = group_of(task.weeks[w], false);
    int own = build;
    if (task.may_deload[w] || task.is_deload[w]) {
      const int twin = group_of(task.as_deload[w], true);
      groups_[static_cast<std::size_t>(build)].twin = twin;
      groups_[static_cast<std::size_t>(build)].eligible += 1;
      if (task.is_deload[w]) own = twin;
    }
    of_week_.push_back(own);
    groups_[static_cast<std::size_t>(own)].count += 1;
    deloads_ += task.is_deload[w] ? 1 : 0;
    ++weeks_of_base_[build];
  }
}

int WeekGroups::group_of(const Segment& segment, bool deload) {
  const std::string key = (deload ? "d|" : "b|") + segment.signature;
  const auto [at, is_new] = known_.emplace(key, static_cast<int>(groups_.size()));
  if (is_new) {
    WeekGroup group;
    group.segment = &segment;
    group.deload = deload;
    groups_.push_back(group);
  }
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

std::vector<int> WeekGroups::cheapest_deloads(const PackSearch& search, const Prices& prices,
                                              const std::vector<const Column*>& chosen) const {
  std::vector<std::pair<double, std::size_t>> cost;
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    if (groups_[g].deload || groups_[g].twin < 0) continue;
    const Column& twin = *chosen[static_cast<std::size_t>(groups_[g].twin)];
    cost.emplace_back(search.worth(*chosen[g], prices) - search.worth(twin, prices), g);
  }
  std::sort(cost.begin(), cost.end());
  std::vector<int> deloads(groups_.size(), 0);
  int left = deloads_;
  for (const auto& [difference, g] : cost) {
    deloads[g] = std::min(left, groups_[g].eligible);
    left -= deloads[g];
  }
  return deloads;
}

void WeekGroups::add_to(DualPoint& point, const PackSearch& search, const Prices& prices,
                        const std::vector<const Column*>& chosen) const {
  const std::vector<int> deloads = cheapest_deloads(search, prices, chosen);
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    if (groups_[g].deload) continue;
    const auto weeks = weeks_of_base_.find(static_cast<int>(g));
    const int all = weeks == weeks_of_base_.end() ? 0 : weeks->second;
    add_weeks(point, *chosen[g], search.worth(*chosen[g], prices), all - deloads[g]);
    if (deloads[g] == 0) continue;
    const Column& twin = *chosen[static_cast<std::size_t>(groups_[g].twin)];
    add_weeks(point, twin, search.worth(twin, prices), deloads[g]);
  }
}

}  // namespace backplan

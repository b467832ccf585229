// The weeks of an allocation, those that are alike together: they share their columns.
#pragma once

#include <map>
#include <vector>

#include "core/allocation.hpp"
#include "core/dual.hpp"
#include "core/packs.hpp"

namespace backplan {

struct WeekGroup {
  const Segment* segment = nullptr;
  int count = 0;  // weeks
  std::vector<Column> pool;
};

class WeekGroups {
 public:
  // The task must outlive the groups.
  explicit WeekGroups(const AllocationTask& task);

  [[nodiscard]] std::vector<WeekGroup>& all() { return groups_; }
  [[nodiscard]] const std::vector<WeekGroup>& all() const { return groups_; }
  [[nodiscard]] const std::vector<int>& of_week() const { return of_week_; }  // group by week

  // The column that is worth most at these prices in each group's pool; `sure`: of those whose placing was
  // found.
  [[nodiscard]] std::vector<const Column*> best_in_pools(const PackSearch& search, const Prices& prices,
                                                         bool sure = false) const;

  // Adds the weeks to the Lagrangian; `chosen` by group.
  void add_to(DualPoint& point, const PackSearch& search, const Prices& prices,
              const std::vector<const Column*>& chosen) const;

 private:
  int group_of(const Segment& segment);

  std::map<std::string, int> known_;  // by signature
  std::vector<WeekGroup> groups_;
  std::vector<int> of_week_;
};

}  // namespace backplan

// Who stands for all when weeks are looked for, and what the groups are called.
#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "core/programme_parts.hpp"

namespace backplan {
namespace {

// How differently two people price the events; a different limit of hard days counts as much as one event.
double difference(const MemberPlanner& a, const MemberPlanner& b) {
  constexpr double kLeastPrice = 1e-9;
  const Prices& x = a.prices();
  const Prices& y = b.prices();
  double sum = a.hard_limit() == b.hard_limit() ? 0.0 : 1.0;
  for (std::size_t e = 0; e < x.s.size(); ++e)
    sum += std::fabs(x.s[e] - y.s[e]) / std::max({x.s[e], y.s[e], kLeastPrice});
  return sum;
}

std::string kept_id(const std::vector<Group>& kept, const Pattern& pattern) {
  std::string id;
  for (const Group& old : kept) {
    if (old.pattern == pattern) id = old.id;
  }
  return id;
}

// The next free letters for the groups that have none.
void letter(std::vector<Group>& groups) {
  std::vector<std::string> taken;
  for (const Group& group : groups) taken.push_back(group.id);
  char next = 'A';
  for (Group& group : groups) {
    if (!group.id.empty()) continue;
    while (std::count(taken.begin(), taken.end(), std::string(1, next)) > 0) ++next;
    group.id = std::string(1, next++);
  }
}

}  // namespace

std::vector<std::size_t> unlike_people(const MemberPlanners& planners, const std::vector<std::size_t>& among,
                                       std::size_t most) {
  std::vector<std::size_t> out;
  if (among.empty()) return out;
  out.push_back(among.front());
  while (out.size() < std::min(most, among.size())) {
    std::size_t next = among.front();
    double farthest = -1.0;
    for (const std::size_t i : among) {
      double nearest = 1e300;
      for (const std::size_t known : out)
        nearest = std::min(nearest, difference(*planners[i], *planners[known]));
      if (std::count(out.begin(), out.end(), i) > 0 || nearest <= farthest) continue;
      farthest = nearest;
      next = i;
    }
    if (std::count(out.begin(), out.end(), next) > 0) break;
    out.push_back(next);
  }
  return out;
}

std::vector<Group> named_groups(const std::vector<Group>& kept, const std::vector<Layout>& layouts,
                                const std::vector<std::size_t>& pattern_of,
                                const std::vector<std::string>& ids) {
  std::map<std::size_t, Group> by_pattern;
  for (std::size_t a = 0; a < ids.size(); ++a) by_pattern[pattern_of[a]].members.push_back(ids[a]);
  std::vector<Group> groups;
  for (auto& [pattern, group] : by_pattern) {
    group.pattern = layouts[pattern].pattern;
    group.id = kept_id(kept, group.pattern);
    groups.push_back(std::move(group));
  }
  std::stable_sort(groups.begin(), groups.end(),
                   [](const Group& a, const Group& b) { return a.members.size() > b.members.size(); });
  letter(groups);
  std::stable_sort(groups.begin(), groups.end(), [](const Group& a, const Group& b) { return a.id < b.id; });
  return groups;
}

}  // namespace backplan

// Who changes groups when a squad is planned anew, and for what.
#include <algorithm>

#include "core/programme_parts.hpp"

namespace backplan {
namespace {

// A move that is held back costs as much as so many worthy ones bring: more than a squad has people.
constexpr double kNoReason = 1000.0;

bool is_in_use(const Choice& choice, std::size_t pattern) {
  return std::count(choice.pattern_of.begin(), choice.pattern_of.end(), pattern) > 0;
}

}  // namespace

Staying staying(const std::vector<Group>& kept, const std::vector<Layout>& layouts,
                const std::vector<std::string>& ids, double worth_moving) {
  Staying out;
  out.patterns = layouts.size();
  out.worth_moving = worth_moving;
  for (const std::string& id : ids) {
    std::optional<std::size_t> pattern;
    for (std::size_t p = 0; p < layouts.size() && !pattern; ++p) {
      const bool follows = std::any_of(kept.begin(), kept.end(), [&](const Group& group) {
        return group.pattern == layouts[p].pattern &&
               std::count(group.members.begin(), group.members.end(), id) > 0;
      });
      if (follows) pattern = p;
    }
    out.kept.push_back(pattern);
  }
  return out;
}

void prefer_the_kept(const Staying& staying, ChoiceProblem& problem) {
  for (std::size_t i = 0; i < staying.kept.size(); ++i) {
    if (staying.kept[i]) problem.value[i * problem.patterns + *staying.kept[i]] += staying.worth_moving;
  }
}

bool hold_back(Staying& staying, const Choice& choice, ChoiceProblem& problem) {
  bool any = false;
  for (std::size_t i = 0; i < staying.kept.size(); ++i) {
    const auto kept = staying.kept[i];
    if (!kept || choice.pattern_of[i] == *kept || !is_in_use(choice, *kept)) continue;
    if (staying.gain(i, choice.pattern_of[i]) >= staying.worth_moving) continue;
    if (!staying.held.insert(i).second) continue;
    any = true;
    for (std::size_t p = 0; p < staying.patterns; ++p) {
      if (p != *kept && staying.gain(i, p) < staying.worth_moving)
        problem.value[i * problem.patterns + p] -= kNoReason * staying.worth_moving;
    }
  }
  return any;
}

double without_staying(const Staying& staying, const Choice& choice) {
  double worth = 0.0;
  for (std::size_t i = 0; i < choice.pattern_of.size(); ++i)
    worth += staying.worth[i * staying.patterns + choice.pattern_of[i]];
  return worth - choice.value;
}

std::vector<Move> moves_of(const Staying& staying, const Choice& choice, const std::vector<Group>& before,
                           const std::vector<Layout>& layouts, const std::vector<std::string>& ids,
                           const std::vector<std::string>& now_in) {
  std::vector<Move> out;
  for (std::size_t i = 0; i < ids.size(); ++i) {
    const std::size_t now = choice.pattern_of[i];
    for (const Group& old : before) {
      if (std::count(old.members.begin(), old.members.end(), ids[i]) == 0) continue;
      if (old.pattern == layouts[now].pattern) continue;
      Move move{ids[i], old.id, now_in[i], std::nullopt, false};
      if (const auto kept = staying.kept[i]) {
        if (staying.gain(i, now) >= staying.worth_moving) move.gain = staying.gain(i, now);
        move.given_up = !is_in_use(choice, *kept);
      }
      out.push_back(std::move(move));
    }
  }
  return out;
}

}  // namespace backplan

#include "lab/policies.hpp"

#include "lab/informed.hpp"
#include "lab/omniscient.hpp"
#include "lab/planner_policies.hpp"
#include "lab/simple_policies.hpp"
#include "lab/straighter.hpp"

namespace backplan::lab {
namespace {

class Nothing final : public Policy {
 public:
  [[nodiscard]] Decision decide(const Situation& now) override {
    Decision out;
    out.seen = now.candidate;
    return out;
  }
};

}  // namespace

std::string to_string(Way way) {
  switch (way) {
    case Way::nothing:
      return "nothing";
    case Way::equal_split:
      return "equal split";
    case Way::weakest:
      return "weakest first";
    case Way::pattern:
      return "fixed pattern";
    case Way::plan_once:
      return "plan once";
    case Way::replan_weekly:
      return "plan weekly";
    case Way::informed:
      return "told the family";
    case Way::omniscient:
      return "omniscient";
    case Way::straighter:
      return "straighter dose";
  }
  return {};
}

const std::vector<Way>& all_ways() {
  static const std::vector<Way> kAll = {Way::nothing,   Way::equal_split,   Way::weakest,  Way::pattern,
                                        Way::plan_once, Way::replan_weekly, Way::informed, Way::omniscient};
  return kAll;
}

const std::vector<Way>& known_ways() {
  static const std::vector<Way> kAll = [] {
    std::vector<Way> out = all_ways();
    out.push_back(Way::straighter);
    return out;
  }();
  return kAll;
}

std::unique_ptr<Policy> policy_of(Way way) {
  switch (way) {
    case Way::nothing:
      break;
    case Way::equal_split:
      return std::make_unique<EqualSplit>();
    case Way::weakest:
      return std::make_unique<WeakestFirst>();
    case Way::pattern:
      return std::make_unique<FixedPattern>();
    case Way::plan_once:
      return std::make_unique<PlanOnce>();
    case Way::replan_weekly:
      return std::make_unique<ReplanWeekly>(quick_options());
    case Way::informed:
      return std::make_unique<Informed>();
    case Way::omniscient:
      return std::make_unique<Omniscient>();
    case Way::straighter:
      return std::make_unique<Straighter>();
  }
  return std::make_unique<Nothing>();
}

}  // namespace backplan::lab

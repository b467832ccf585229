// The weekly plan by somebody who is told of which family a body is, but nothing about this one.
#pragma once

#include <optional>

#include "lab/planner_policies.hpp"

namespace backplan::lab {

// The planner's curves laid through the middle of the family: headroom, rate, marks and losses of the priors.
[[nodiscard]] Model model_of_family(const Situation& now);

class Informed final : public Policy {
 public:
  [[nodiscard]] Decision decide(const Situation& now) override;

 private:
  ReplanWeekly weekly_{quick_options()};
  std::optional<Model> model_;  // of the first day
};

}  // namespace backplan::lab

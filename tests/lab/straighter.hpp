// The weekly plan by somebody who believes that doses flatten later: what the shape of the dose curve is
// worth.
#pragma once

#include <optional>

#include "lab/planner_policies.hpp"

namespace backplan::lab {

// Of u0, for every event but the deadlift, whose curve has a source.
inline constexpr double kStraighter = 3.0;

class Straighter final : public Policy {
 public:
  [[nodiscard]] Decision decide(const Situation& now) override;

 private:
  ReplanWeekly weekly_{quick_options()};
  std::optional<Model> model_;
};

}  // namespace backplan::lab

// The plan of the program: made once and followed, or made anew every week from the journal.
#pragma once

#include <optional>

#include "backplan/replan.hpp"
#include "lab/policies.hpp"

namespace backplan::lab {

// As `backplan batch` plans; `proven`: as `backplan plan` does, with the bound worked out.
[[nodiscard]] PlanOptions quick_options();
[[nodiscard]] PlanOptions proven_options();

class PlanOnce final : public Policy {
 public:
  [[nodiscard]] Decision decide(const Situation& now) override;
};

class ReplanWeekly final : public Policy {
 public:
  explicit ReplanWeekly(PlanOptions options) : options_(options) {}
  [[nodiscard]] Decision decide(const Situation& now) override;

 private:
  PlanOptions options_;
};

}  // namespace backplan::lab

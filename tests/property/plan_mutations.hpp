// Ways to break a finished plan in one rule. Each looks for a place where its breaking is certain to
// be one; where a plan has no such place it leaves the plan alone.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/rules.hpp"
#include "support/random_source.hpp"

namespace backplan::testing {

// What a mutation changes and what it may look at.
struct Finished {
  Plan& plan;
  Candidate& candidate;
  const Model& model;
  const Rules& rules;
  RandomSource& random;
};

struct Mutation {
  std::string name;
  std::string rule;                      // what the checker must say of it, among other things
  std::function<bool(Finished&)> apply;  // false: no place in this plan
};

// On the days of one week, on the slot, on texts and figures.
[[nodiscard]] std::vector<Mutation> day_mutations();
// On whole weeks, the deload, the taper, the candidate's own limits.
[[nodiscard]] std::vector<Mutation> week_mutations();

}  // namespace backplan::testing

// Ways to train until the test. All obey the same rules of training, and the independent checker judges the
// plan of every week of each of them.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "backplan/history.hpp"
#include "backplan/planner.hpp"
#include "lab/person.hpp"

namespace backplan::lab {

enum class Way {
  nothing,
  equal_split,
  weakest,
  pattern,
  plan_once,
  replan_weekly,
  informed,
  omniscient,
  straighter,
};
[[nodiscard]] std::string to_string(Way way);        // "nothing", "equal split", ...
[[nodiscard]] const std::vector<Way>& all_ways();    // but for those that only answer a question of their own
[[nodiscard]] const std::vector<Way>& known_ways();  // with those

// What there is to decide by on the first day of a week.
struct Situation {
  const Candidate& candidate;
  const Knowledge& knowledge;
  const History& history;  // its plan: the one followed so far
  Date as_of;
  const Person& truth;  // only for who is omniscient
};

struct Decision {
  Plan plan;   // with the days that are over
  Plan ahead;  // from today on, for the checker
  Candidate seen;
};

class Policy {
 public:
  Policy() = default;
  virtual ~Policy() = default;
  Policy(const Policy&) = delete;
  Policy& operator=(const Policy&) = delete;
  [[nodiscard]] virtual Decision decide(const Situation& now) = 0;
};

[[nodiscard]] std::unique_ptr<Policy> policy_of(Way way);

}  // namespace backplan::lab

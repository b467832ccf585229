// Given a few patterns: who follows which, so that no lane is over its capacity.
#pragma once

#include <vector>

#include "backplan/patterns.hpp"

namespace backplan {

struct Assignment {
  bool possible = false;
  std::vector<std::size_t> pattern_of;  // by person: of the whole problem's patterns
  double value = 0.0;
  double over = 0.0;  // people too many on the lanes, where it is not possible
};

// Prices of the lanes' capacities: any not negative ones bound every choice from above.
struct LanePrices {
  std::vector<double> price;  // by lane
  double of_capacity = 0.0;   // price times capacity, summed
  [[nodiscard]] double of_use(const ChoiceProblem& problem, std::size_t person, std::size_t pattern) const;
};
// The prices that are found by subgradients on the problem without its limit of patterns.
[[nodiscard]] LanePrices lane_prices(const ChoiceProblem& problem);

// Since every user of a lane takes as much of it, only the numbers of people a pattern matter: counted out
// person by person over all those numbers.
[[nodiscard]] Assignment assign_exactly(const ChoiceProblem& problem, const std::vector<std::size_t>& chosen);
[[nodiscard]] double steps_of_assignment(const ChoiceProblem& problem, std::size_t patterns);

// The best at the prices; then whoever loses least moves until every lane is inside its capacity.
[[nodiscard]] Assignment assign_nearly(const ChoiceProblem& problem, const std::vector<std::size_t>& chosen,
                                       const LanePrices& prices);

}  // namespace backplan

#include <stdexcept>

#include "backplan/squad.hpp"

namespace backplan {

std::string to_string(SquadGoal goal) {
  switch (goal) {
    case SquadGoal::fewest_failing:
      return "fewest failing";
    case SquadGoal::most_at_target:
      return "most at target";
    case SquadGoal::highest_mean:
      return "highest mean";
  }
  throw std::logic_error("a goal of a squad without a name");
}

}  // namespace backplan

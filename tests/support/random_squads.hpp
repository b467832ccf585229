// Invented squads: people of very different fitness, mornings and kit in every odd measure. All of it is
// made up from the seed.
#pragma once

#include "backplan/patterns.hpp"
#include "backplan/squad.hpp"
#include "backplan/standard.hpp"
#include "support/random_source.hpp"

namespace backplan::testing {

struct SquadKnobs {
  int people = 12;
  bool plain = false;  // nobody avoids anything, nothing is blocked, kit enough for most
};

// Valid for this standard and this day. The same source state gives the same squad.
[[nodiscard]] Squad random_squad(RandomSource& random, const Standard& standard, Date as_of,
                                 const SquadKnobs& knobs = {});

// A choice of patterns without people behind it: values and uses drawn at random, lanes tight.
[[nodiscard]] ChoiceProblem random_choice(RandomSource& random, std::size_t people, std::size_t patterns,
                                          int most_patterns);

}  // namespace backplan::testing

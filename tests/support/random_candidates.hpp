// Invented candidates for property tests: plausible people in every odd situation that the planner
// must cope with. All of it is made up from the seed.
#pragma once

#include <optional>
#include <string>

#include "backplan/candidate.hpp"
#include "backplan/standard.hpp"
#include "support/random_source.hpp"

namespace backplan::testing {

// What a test wants fixed; everything else is drawn.
struct CandidateKnobs {
  std::optional<int> minutes_a_week;  // spread over three to five mornings
  std::optional<int> weeks_to_test;
  std::optional<int> days_to_test;  // wins over weeks_to_test
  std::optional<int> age;           // on the test day
  std::optional<Background> background;
  std::optional<std::string> column;
  std::optional<std::string> category;
  bool hard_fixed = false;  // some fixed work is hard from its first minute
  bool plain = false;       // nothing blocked, fixed, avoided or medical; all equipment; every event known
};

// Valid for this standard and this day. The same source state gives the same candidate.
[[nodiscard]] Candidate random_candidate(RandomSource& random, const Standard& standard, Date as_of,
                                         const CandidateKnobs& knobs = {});

// All of a candidate in one block of text, for the message of a failing test.
[[nodiscard]] std::string describe(const Candidate& candidate);

}  // namespace backplan::testing

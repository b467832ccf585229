// The choice of a few weekly patterns for many people: which patterns, and who follows which.
//   most  sum over people of value(person, pattern of the person)
//   with  at most so many patterns, and no shared lane of any morning over its capacity
// docs/mathematics.md, "Choice of patterns".
#pragma once

#include <cstddef>
#include <vector>

namespace backplan {

struct ChoiceProblem {
  std::size_t people = 0, patterns = 0, lanes = 0;  // a lane: one shared kind of kit on one weekday
  std::vector<double> value;                        // person by person, pattern by pattern
  std::vector<double> use;                          // of one person: pattern by pattern, lane by lane
  std::vector<double> capacity;                     // by lane
  std::vector<unsigned char> needs;  // by person: 0 for somebody who uses no shared lane at all
  int most_patterns = 3;
  bool exactly = false;

  [[nodiscard]] double value_of(std::size_t person, std::size_t pattern) const {
    return value[person * patterns + pattern];
  }
  [[nodiscard]] double use_of(std::size_t person, std::size_t pattern, std::size_t lane) const {
    return needs[person] != 0 ? use[pattern * lanes + lane] : 0.0;
  }
};

struct Choice {
  bool possible = false;                // some choice keeps inside the capacities
  std::vector<std::size_t> pattern_of;  // by person
  double value = 0.0;
  double bound = 0.0;  // no choice is worth more
};

// Exact where the subsets can be counted out (`bound` is then `value`); else by exchange, with a bound from
// prices on the capacities and on the people.
[[nodiscard]] Choice choose_patterns(const ChoiceProblem& problem);

}  // namespace backplan

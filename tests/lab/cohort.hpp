// Every person of a cohort under every way of training with every number of minutes.
#pragma once

#include <cstdint>
#include <vector>

#include "lab/season_run.hpp"

namespace backplan::lab {

struct CohortSize {
  int people = 60;  // a family
  std::uint64_t seed = 1;
  int threads = 2;
  std::vector<int> minutes = {60, 90, 120, 180, 240};
  std::vector<Family> families = strange_families();
  std::vector<Way> ways = all_ways();
};

class Cohort {
 public:
  Cohort(const CohortSize& size, const Knowledge& knowledge);

  [[nodiscard]] const CohortSize& size() const { return size_; }
  [[nodiscard]] const Outcome& at(std::size_t family, std::size_t minutes, std::size_t way, int person) const;
  // The totals that were asked for, by family and person.
  [[nodiscard]] double target(std::size_t family, int person) const;

 private:
  [[nodiscard]] std::size_t index(std::size_t family, std::size_t minutes, std::size_t way, int person) const;
  void run_one(std::size_t job, const Knowledge& knowledge);

  CohortSize size_;
  std::vector<Outcome> outcomes_;
  std::vector<double> targets_;
};

// The seed of one person.
[[nodiscard]] std::uint64_t seed_of(std::uint64_t seed, Family family, int person);

}  // namespace backplan::lab

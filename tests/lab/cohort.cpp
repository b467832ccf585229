#include "lab/cohort.hpp"

#include "lab/threads.hpp"
#include "support/random_source.hpp"

namespace backplan::lab {

std::uint64_t seed_of(std::uint64_t seed, Family family, int person) {
  testing::RandomSource mixed(seed * 0x100000001B3U + static_cast<std::uint64_t>(family) * 1000003U +
                              static_cast<std::uint64_t>(person));
  return mixed.next();
}

Cohort::Cohort(const CohortSize& size, const Knowledge& knowledge) : size_(size) {
  const std::size_t people = static_cast<std::size_t>(size.people) * size.families.size();
  outcomes_.resize(people * size.minutes.size() * size.ways.size());
  targets_.resize(people);
  in_threads(size.threads, people * size.minutes.size(), [&](std::size_t job) { run_one(job, knowledge); });
}

std::size_t Cohort::index(std::size_t family, std::size_t minutes, std::size_t way, int person) const {
  const std::size_t row = family * static_cast<std::size_t>(size_.people) + static_cast<std::size_t>(person);
  return (row * size_.minutes.size() + minutes) * size_.ways.size() + way;
}

const Outcome& Cohort::at(std::size_t family, std::size_t minutes, std::size_t way, int person) const {
  return outcomes_[index(family, minutes, way, person)];
}

double Cohort::target(std::size_t family, int person) const {
  return targets_[family * static_cast<std::size_t>(size_.people) + static_cast<std::size_t>(person)];
}

// One person with one number of minutes, under every way.
void Cohort::run_one(std::size_t job, const Knowledge& knowledge) {
  const std::size_t minutes = job % size_.minutes.size();
  const std::size_t row = job / size_.minutes.size();
  const std::size_t family = row / static_cast<std::size_t>(size_.people);
  const int number = static_cast<int>(row % static_cast<std::size_t>(size_.people));
  const Person person = draw_person(seed_of(size_.seed, size_.families[family], number),
                                    size_.families[family], size_.minutes[minutes], knowledge);
  if (minutes == 0) targets_[row] = person.candidate.target.total->value();
  for (std::size_t way = 0; way < size_.ways.size(); ++way) {
    const auto policy = policy_of(size_.ways[way]);
    const bool intervals = size_.ways[way] == Way::replan_weekly;
    outcomes_[index(family, minutes, way, number)] = run_season(person, *policy, knowledge, intervals);
  }
}

}  // namespace backplan::lab

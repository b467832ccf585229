#include "backplan/strength.hpp"

#include <cstddef>
#include <iterator>

namespace backplan {
namespace {

// FM 7-22 (October 2020), paragraph 4-25: 1RM = 0.033 r w + w.
constexpr double kPerRepetition = 0.033;
constexpr double kThreeRepFactor = 1.0 + 3.0 * kPerRepetition;  // 1.099

// People judge their reserve to about one repetition while up to three are left, and poorly beyond
// (Hackett 2017).
constexpr double kMostReadableReserve = 3.0;

// What a set of n repetitions to failure multiplies its load by. The formula would give a true
// single 3.3 % more than itself; a single with nothing left is the maximum, so the factor runs on a
// straight line from 1 at one repetition to the formula's value at two.
double read_factor(double n) {
  if (n >= 2.0) return 1.0 + kPerRepetition * n;
  return 1.0 + 2.0 * kPerRepetition * (n - 1.0);
}

struct Knot {
  double repetitions;
  double sd;
};
// Standard deviation of ln(maximum), our judgement from the spread of repetitions at a given load
// (Nuzzo 2024; Mitter 2022).
constexpr Knot kSpread[] = {{3.0, 0.015}, {5.0, 0.03}, {8.0, 0.05}, {10.0, 0.08}};

double spread_of(double n) {
  if (n <= kSpread[0].repetitions) return kSpread[0].sd;
  for (std::size_t i = 1; i < std::size(kSpread); ++i) {
    const Knot low = kSpread[i - 1];
    const Knot high = kSpread[i];
    if (n <= high.repetitions) {
      return low.sd + (high.sd - low.sd) * (n - low.repetitions) / (high.repetitions - low.repetitions);
    }
  }
  return kSpread[std::size(kSpread) - 1].sd;
}

}  // namespace

Pounds one_rep_max(Pounds load, double repetitions_to_failure) {
  return load * (1.0 + kPerRepetition * repetitions_to_failure);
}

Pounds three_rep_max(Pounds one_rep_max) { return one_rep_max / kThreeRepFactor; }

Pounds one_rep_max_from_three(Pounds three_rep_max) { return three_rep_max * kThreeRepFactor; }

std::optional<SetReading> read_set(const LiftSet& set) {
  if (set.repetitions < 1 || !(set.load.value() > 0.0)) return std::nullopt;
  if (set.in_reserve && !(*set.in_reserve >= 0.0)) return std::nullopt;
  SetReading reading;
  reading.lower_bound = !set.in_reserve || *set.in_reserve > kMostReadableReserve;
  const double n = set.repetitions + (reading.lower_bound ? 0.0 : *set.in_reserve);
  if (n > kMostRepetitions) return std::nullopt;
  reading.one_rep_max = set.load * read_factor(n);
  reading.three_rep_max = three_rep_max(reading.one_rep_max);
  reading.sd = spread_of(n);
  return reading;
}

}  // namespace backplan

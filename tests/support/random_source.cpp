#include "support/random_source.hpp"

#include "backplan/numeric.hpp"

namespace backplan::testing {

std::uint64_t RandomSource::next() {
  state_ += 0x9E3779B97F4A7C15U;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
  z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
  return z ^ (z >> 31U);
}

double RandomSource::real() {
  // The upper 53 bits: every value is exact.
  return static_cast<double>(next() >> 11U) * 0x1.0p-53;
}

double RandomSource::real(double low, double high) { return low + (high - low) * real(); }

int RandomSource::integer(int least, int most) {
  const auto width = static_cast<std::uint64_t>(static_cast<std::int64_t>(most) - least + 1);
  // The bias of the remainder is below 2^-31 for any int range: no test can see it.
  return static_cast<int>(least + static_cast<std::int64_t>(next() % width));
}

bool RandomSource::chance(double probability) { return real() < probability; }

double RandomSource::normal() {
  // By inversion; the half step keeps the argument away from 0 and 1.
  const double p = (static_cast<double>(next() >> 11U) + 0.5) * 0x1.0p-53;
  return numeric::normal_quantile(p);
}

}  // namespace backplan::testing

// Seeded random numbers for tests. The distributions are our own: those of the standard library
// differ between libraries, and a seed printed by a failing test must find the same case again.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace backplan::testing {

// splitmix64 (Steele, Lea and Flood 2014, public domain algorithm).
class RandomSource {
 public:
  explicit RandomSource(std::uint64_t seed) : state_(seed) {}

  [[nodiscard]] std::uint64_t next();
  [[nodiscard]] double real();                         // 0 <= x < 1
  [[nodiscard]] double real(double low, double high);  // low <= x < high
  [[nodiscard]] int integer(int least, int most);      // both inclusive
  [[nodiscard]] bool chance(double probability);
  [[nodiscard]] double normal();  // mean 0, standard deviation 1

  template <class T>
  [[nodiscard]] const T& choice(const std::vector<T>& from) {
    return from[static_cast<std::size_t>(integer(0, static_cast<int>(from.size()) - 1))];
  }

 private:
  std::uint64_t state_;
};

}  // namespace backplan::testing

// Prints invented candidates, all different, as the lines that `backplan batch` reads: so many, from a first
// seed on. One at a time: a million of them take no more memory than one.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <cstdio>
#include <string>

#include "bench/subjects.hpp"
#include "io/candidate_json.hpp"
#include "io/readers.hpp"
#include "support/random_candidates.hpp"

namespace backplan::bench {
namespace {

// The id that was drawn may come twice in a million: the seed does not.
std::string line_of(std::uint64_t seed, const Standard& standard) {
  testing::RandomSource random(seed);
  Candidate candidate = testing::random_candidate(random, standard, demo_day());
  candidate.id = fmt::format("invented-{}", seed);
  std::string text = io::write_candidate(candidate);
  // What is left of the line breaks parts tokens: inside strings JSON writes them otherwise.
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text + "\n";
}

// Some of the invented are nobody that a file could be about (no target at all, two marches on one day): the
// next seed takes their place.
bool print_lines(std::uint64_t number, std::uint64_t first) {
  const Knowledge knowledge = demo_knowledge();
  std::uint64_t printed = 0;
  for (std::uint64_t seed = first; printed < number; ++seed) {
    const std::string line = line_of(seed, knowledge.standard);
    if (!io::read_candidate(line, "input", knowledge.standard, knowledge.model, demo_day()).ok()) continue;
    if (std::fputs(line.c_str(), stdout) < 0) return false;
    ++printed;
  }
  return std::fflush(stdout) == 0;
}

}  // namespace
}  // namespace backplan::bench

int main(int argc, char** argv) {
  std::uint64_t numbers[] = {0, 1};
  bool understood = argc == 2 || argc == 3;
  for (int i = 1; understood && i < argc; ++i) {
    const std::string text = argv[i];
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), numbers[i - 1]);
    understood = fault == std::errc{} && end == text.data() + text.size();
  }
  if (!understood) {
    static_cast<void>(std::fputs("usage: candidate_lines NUMBER [FIRST SEED]\n", stderr));
    return 2;
  }
  return backplan::bench::print_lines(numbers[0], numbers[1]) ? 0 : 1;
}

// The processor's time that each of many invented candidates takes as `backplan batch` plans them, with what
// might explain it, as JSON Lines: for the slowest tenth in docs/performance.md. One argument: how many.
#include <charconv>
#include <cstdint>
#include <cstdio>
#include <ctime>
#include <string>

#include "backplan/planner.hpp"
#include "bench/subjects.hpp"
#include "cli/finished_plan.hpp"
#include "io/json_write.hpp"
#include "support/random_candidates.hpp"

namespace backplan::bench {
namespace {

constexpr double kMillisecondsInSecond = 1e3, kNanosecondsInMillisecond = 1e6;
constexpr int kDaysInWeek = 7;

double processor_ms() {
  timespec now{};
  if (clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now) != 0) return 0.0;
  return kMillisecondsInSecond * static_cast<double>(now.tv_sec) +
         static_cast<double>(now.tv_nsec) / kNanosecondsInMillisecond;
}

// Days that a week can have of its own: each makes it a week unlike the others.
std::size_t days_apart(const Candidate& candidate) {
  return candidate.days.size() + candidate.blocked.size() + candidate.diagnostics.size();
}

std::string line_of(std::uint64_t seed, const Knowledge& knowledge) {
  testing::RandomSource random(seed);
  const Candidate candidate = testing::random_candidate(random, knowledge.standard, demo_day());
  const double began = processor_ms();
  const Plan plan = make_plan(candidate, knowledge, demo_day(), {.prove = false, .ways_out = false});
  static_cast<void>(cli::checked(plan, candidate, knowledge));
  const double took = processor_ms() - began;
  io::Json json;
  json["seed"] = seed;
  json["ms"] = took;
  json["weeks"] = static_cast<int>((candidate.test_date - demo_day()).count()) / kDaysInWeek;
  json["minutes"] = plan.minutes_available;
  json["days_apart"] = days_apart(candidate);
  json["home_blocks"] = candidate.home_blocks;
  json["looks_for_least"] = candidate.aim == Aim::target && plan.enough;
  return io::one_line(json);
}

bool print_lines(std::uint64_t number) {
  const Knowledge knowledge = demo_knowledge();
  for (std::uint64_t seed = 1; seed <= number; ++seed) {
    if (std::fputs(line_of(seed, knowledge).c_str(), stdout) < 0) return false;
  }
  return std::fflush(stdout) == 0;
}

}  // namespace
}  // namespace backplan::bench

int main(int argc, char** argv) {
  std::uint64_t number = 0;
  const std::string text = argc == 2 ? argv[1] : "";
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (fault != std::errc{} || end != text.data() + text.size()) {
    static_cast<void>(std::fputs("usage: candidate_times NUMBER\n", stderr));
    return 2;
  }
  return backplan::bench::print_lines(number) ? 0 : 1;
}

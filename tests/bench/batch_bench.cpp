// Many different candidates, each answered as `backplan batch` answers it: planned without proof and ways
// out, checked, the outlook written as one line. First in the list of sources, and the small
// number before the large one: the peak of memory that the process reports never falls.
#include <benchmark/benchmark.h>

#include <charconv>
#include <cstdint>
#include <cstdlib>
#include <stdexcept>
#include <string>

#include "backplan/planner.hpp"
#include "bench/peak_memory.hpp"
#include "bench/subjects.hpp"
#include "cli/finished_plan.hpp"
#include "io/json_write.hpp"
#include "io/plan_json.hpp"
#include "support/random_candidates.hpp"

namespace backplan::bench {
namespace {

constexpr int kMany = 10000;
constexpr double kThousand = 1000.0;

// The number of the larger run: BACKPLAN_BENCH_CANDIDATES, for a quicker look.
int many_candidates() {
  const char* variable = std::getenv("BACKPLAN_BENCH_CANDIDATES");
  if (variable == nullptr) return kMany;
  const std::string text = variable;
  int many = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), many);
  if (fault != std::errc{} || end != text.data() + text.size() || many < 1) {
    throw std::runtime_error("BACKPLAN_BENCH_CANDIDATES is \"" + text + "\": expected a whole number from 1");
  }
  return many;
}

std::string answer(const Candidate& candidate, const Knowledge& knowledge) {
  const PlanOptions options{.prove = false, .ways_out = false, .write_out = true};
  const Plan made = make_plan(candidate, knowledge, demo_day(), options);
  const Plan& plan = cli::checked(made, candidate, knowledge);
  io::Json json;
  json["id"] = candidate.id;
  json["outlook"] = io::outlook_json(plan.outlook, knowledge.standard);
  json["time"] = io::time_json(plan);
  return io::one_line(json);
}

// Candidates are made one at a time from their seed, as lines of a stream would come.
void batch_of(benchmark::State& state) {
  const Knowledge knowledge = demo_knowledge();
  const auto candidates = static_cast<std::uint64_t>(state.range(0));
  for (auto _ : state) {
    for (std::uint64_t seed = 1; seed <= candidates; ++seed) {
      testing::RandomSource random(seed);
      const Candidate candidate = testing::random_candidate(random, knowledge.standard, demo_day());
      benchmark::DoNotOptimize(answer(candidate, knowledge));
    }
  }
  const double thousands = static_cast<double>(candidates) / kThousand;
  // Time of the processor divided by the count: a rate, turned over.
  state.counters["s_per_1000"] = benchmark::Counter(
      thousands, benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
  state.counters["peak_MiB"] = peak_memory_mib();
}

void tenth_and_all(benchmark::internal::Benchmark* batch) {
  const int many = many_candidates();
  if (many >= 10) batch->Arg(many / 10);
  batch->Arg(many);
}

BENCHMARK(batch_of)->Apply(tenth_and_all)->Iterations(1)->Unit(benchmark::kSecond);

}  // namespace
}  // namespace backplan::bench

// One candidate with two years of daily entries: the fit alone, and the new plan from it; and many people
// planned anew from the same lines. Beside a general-purpose fit: beside_scipy.py.
#include <benchmark/benchmark.h>

#include <cstdint>
#include <vector>

#include "backplan/progress.hpp"
#include "backplan/replan.hpp"
#include "bench/subjects.hpp"
#include "bench/two_years.hpp"
#include "support/random_candidates.hpp"

namespace backplan::bench {
namespace {

constexpr std::uint64_t kSquad = 120;

// The two years beside a plan that was made without them a week ago.
History with_old_plan(const Candidate& candidate, const Knowledge& knowledge) {
  History history = two_years();
  history.plan = make_plan(candidate, knowledge, demo_day() - Days(7), {.prove = false, .ways_out = false});
  return history;
}

void refit_of(benchmark::State& state, const std::string& who) {
  const Candidate& candidate = demo_candidate(who);
  const Knowledge knowledge = demo_knowledge();
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        fit_history(candidate, knowledge.standard, knowledge.model, demo_day(), two_years()));
  }
}

void replan_of(benchmark::State& state, const std::string& who) {
  const Candidate& candidate = demo_candidate(who);
  const Knowledge knowledge = demo_knowledge();
  const History history = with_old_plan(candidate, knowledge);
  for (auto _ : state) {
    benchmark::DoNotOptimize(replan(candidate, knowledge, demo_day(), history));
  }
}

// A journal has no column for the person: each of the squad is planned as if all its lines were theirs.
void replan_squad(benchmark::State& state) {
  const Knowledge knowledge = demo_knowledge();
  std::vector<Candidate> squad;
  std::vector<History> histories;
  for (std::uint64_t seed = 1; seed <= kSquad; ++seed) {
    testing::RandomSource random(seed);
    squad.push_back(testing::random_candidate(random, knowledge.standard, demo_day()));
    histories.push_back(with_old_plan(squad.back(), knowledge));
  }
  for (auto _ : state) {
    for (std::size_t i = 0; i < squad.size(); ++i) {
      benchmark::DoNotOptimize(
          replan(squad[i], knowledge, demo_day(), histories[i], {.prove = false, .ways_out = false}));
    }
  }
  state.counters["s_a_person"] =
      benchmark::Counter(static_cast<double>(squad.size()),
                         benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

BENCHMARK_CAPTURE(refit_of, rowan_two_years, "rowan")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(replan_of, rowan_two_years, "rowan")->Unit(benchmark::kMillisecond);

BENCHMARK(replan_squad)->Iterations(1)->Unit(benchmark::kSecond);

}  // namespace
}  // namespace backplan::bench

// A squad's programme with its check, for 12, 40 and 120 invented people; the peak of memory grows with them.
#include <benchmark/benchmark.h>

#include "backplan/programme.hpp"
#include "bench/peak_memory.hpp"
#include "bench/subjects.hpp"
#include "support/random_squads.hpp"

namespace backplan::bench {
namespace {

void squad_of(benchmark::State& state) {
  const Knowledge knowledge = demo_knowledge();
  testing::RandomSource random(1);
  testing::SquadKnobs knobs;
  knobs.people = static_cast<int>(state.range(0));
  knobs.plain = true;
  Squad squad = testing::random_squad(random, knowledge.standard, demo_day(), knobs);
  squad.test_date = demo_day() + Days(84);
  for (Member& member : squad.members) member.candidate.test_date = squad.test_date;
  squad.goal = SquadGoal::fewest_failing;
  squad.most_groups = 3;
  squad.exactly = false;
  double gap = 0.0;
  for (auto _ : state) {
    const Programme programme = make_programme(squad, knowledge, demo_day());
    benchmark::DoNotOptimize(check_programme(programme, squad, knowledge));
    gap = (*programme.optimality.bound - programme.optimality.value) / programme.gain;
  }
  state.counters["gap_percent"] = 100.0 * gap;
  state.counters["peak_MiB"] = peak_memory_mib();
}

BENCHMARK(squad_of)->Arg(12)->Arg(40)->Arg(120)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace backplan::bench

// One candidate: the whole plan and its two costly parts, from parsed input.
#include <benchmark/benchmark.h>

#include "backplan/outlook.hpp"
#include "backplan/planner.hpp"
#include "bench/subjects.hpp"
#include "core/season.hpp"

namespace backplan::bench {
namespace {

// The efforts of the planner with and without proof: src/core/planner.cpp.
const AllocationEffort kQuick{.prove = false, .rounds = 3, .nodes = 0, .counting_nodes = 0, .gap = 0.05};
const AllocationEffort kProve{.prove = true, .rounds = 14, .nodes = 40, .counting_nodes = 3000, .gap = 0.05};

void plan_of(benchmark::State& state, const std::string& who, bool prove) {
  const Candidate& candidate = demo_candidate(who);
  const Knowledge knowledge = demo_knowledge();
  PlanOptions options;
  options.prove = prove;
  for (auto _ : state) {
    benchmark::DoNotOptimize(make_plan(candidate, knowledge, demo_day(), options));
  }
}

// A planner remembers packs that it has placed; each fill starts with a fresh one, outside the clock.
void allocation_of(benchmark::State& state, const std::string& who, const AllocationEffort& effort) {
  const Candidate& candidate = demo_candidate(who);
  for (auto _ : state) {
    state.PauseTiming();
    SeasonPlanner planner(candidate, demo_knowledge(), demo_day());
    state.ResumeTiming();
    benchmark::DoNotOptimize(planner.fill(planner.available_minutes(), effort));
  }
}

void outlook_of(benchmark::State& state, const std::string& who) {
  const Candidate& candidate = demo_candidate(who);
  const Knowledge knowledge = demo_knowledge();
  SeasonPlanner planner(candidate, knowledge, demo_day());
  const Season season = planner.fill(planner.available_minutes(), kQuick);
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        forecast(planner.states(), candidate, knowledge.standard, knowledge.model, season.dosage));
  }
}

// rowan reaches the target; hazel does not, so that the ways out are looked for too.
BENCHMARK_CAPTURE(plan_of, rowan_proven, "rowan", true)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(plan_of, rowan_unproven, "rowan", false)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(plan_of, hazel_proven, "hazel", true)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(plan_of, hazel_unproven, "hazel", false)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(allocation_of, rowan_proven, "rowan", kProve)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(allocation_of, rowan_unproven, "rowan", kQuick)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(outlook_of, rowan, "rowan")->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace backplan::bench

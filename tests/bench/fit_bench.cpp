// One candidate with two years of daily entries: the fit alone, and the new plan from it.
#include <benchmark/benchmark.h>

#include <chrono>

#include "backplan/planner.hpp"
#include "backplan/progress.hpp"
#include "bench/subjects.hpp"
#include "support/histories.hpp"

namespace backplan::bench {
namespace {

constexpr int kDays = 730;

WorkDone all_out(const std::string& kind, double seconds) {
  WorkDone work;
  work.work = kind;
  work.hard = true;
  work.time = Typed<Seconds>{Seconds(seconds), "typed"};
  return work;
}

WorkDone push_ups(int repetitions) {
  WorkDone work;
  work.work = "push_up";
  work.sets = {{repetitions, std::nullopt, std::nullopt}};
  return work;
}

// Every day says something: sets with and without a reserve, runs of two distances, holds, shuttles.
const History& two_years() {
  static const History kHistory = [] {
    const Date begins = demo_day() - Days(kDays);
    support::HistoryMaker maker(begins);
    for (int i = 0; i < kDays; ++i) {
      const Date day = begins + Days(i);
      const double gain = static_cast<double>(i) / kDays;
      if (i % 7 == 0) maker.lift(day, 150.0 + 20.0 * gain, 5, 2.0);
      if (i % 7 == 1) maker.add(day, push_ups(18 + static_cast<int>(8.0 * gain)));
      if (i % 7 == 2) maker.run(day, 2.0, 1150.0 - 60.0 * gain, true);
      if (i % 7 == 3) maker.lift(day, 150.0 + 20.0 * gain, 4, std::nullopt);
      if (i % 7 == 4) maker.add(day, all_out("trunk", 90.0 + 30.0 * gain));
      if (i % 7 == 5) maker.run(day, 3.0, 1850.0 - 100.0 * gain, false);
      if (i % 7 == 6) maker.add(day, all_out("shuttle", 150.0 - 10.0 * gain));
    }
    return maker.made();
  }();
  return kHistory;
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
  for (auto _ : state) {
    benchmark::DoNotOptimize(make_plan(candidate, knowledge, demo_day(), two_years(), PlanOptions{}));
  }
}

BENCHMARK_CAPTURE(refit_of, rowan_two_years, "rowan")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(replan_of, rowan_two_years, "rowan")->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace backplan::bench

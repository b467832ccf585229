// How the cost of a plan grows: with the weeks to the test, with the events of the standard, with the
// minutes. People without anything odd about them, so that nothing but the named quantity changes.
#include <benchmark/benchmark.h>

#include <cstdint>
#include <string>
#include <vector>

#include "backplan/planner.hpp"
#include "backplan/suited.hpp"
#include "bench/subjects.hpp"
#include "property/shipped_data.hpp"
#include "support/random_candidates.hpp"

namespace backplan::bench {
namespace {

constexpr std::uint64_t kPeople = 6;
constexpr int kUsualWeeks = 14, kUsualMinutes = 240;  // a week

// A standard with the defaults that concern it; Knowledge only points at them.
struct Shelf {
  explicit Shelf(const std::string& standard_id)
      : standard(testing::shipped_standard(standard_id)),
        model(suited_model(testing::shipped_model(), standard)),
        rules(suited_rules(testing::shipped_rules(), model)) {}
  [[nodiscard]] Knowledge knowledge() const { return {standard, model, rules}; }
  Standard standard;
  Model model;
  Rules rules;
};

std::vector<Candidate> people(const Standard& standard, int weeks, int minutes) {
  std::vector<Candidate> out;
  for (std::uint64_t seed = 1; seed <= kPeople; ++seed) {
    testing::RandomSource random(seed);
    testing::CandidateKnobs knobs;
    knobs.plain = true;
    knobs.weeks_to_test = weeks;
    knobs.minutes_a_week = minutes;
    out.push_back(testing::random_candidate(random, standard, demo_day(), knobs));
    out.back().aim = Aim::highest;  // else the cost hangs on how far off the target is
  }
  return out;
}

// Reports the mean of a person.
void plan_all(benchmark::State& state, const Knowledge& knowledge, const std::vector<Candidate>& all,
              bool prove) {
  const PlanOptions options{.prove = prove, .ways_out = false};
  for (auto _ : state) {
    for (const Candidate& one : all) benchmark::DoNotOptimize(make_plan(one, knowledge, demo_day(), options));
  }
  state.counters["s_a_person"] =
      benchmark::Counter(static_cast<double>(all.size()),
                         benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

void weeks_of(benchmark::State& state, bool prove) {
  const Shelf shelf("us-army-aft");
  const auto weeks = static_cast<int>(state.range(0));
  plan_all(state, shelf.knowledge(), people(shelf.standard, weeks, kUsualMinutes), prove);
}

void minutes_of(benchmark::State& state, bool prove) {
  const Shelf shelf("us-army-aft");
  const auto minutes = static_cast<int>(state.range(0));
  plan_all(state, shelf.knowledge(), people(shelf.standard, kUsualWeeks, minutes), prove);
}

void events_of(benchmark::State& state, const std::string& standard_id, bool prove) {
  const Shelf shelf(standard_id);
  state.counters["events"] = static_cast<double>(shelf.standard.events.size());
  plan_all(state, shelf.knowledge(), people(shelf.standard, kUsualWeeks, kUsualMinutes), prove);
}

void weeks_to_try(benchmark::internal::Benchmark* one) {
  for (const int weeks : {4, 8, 16, 26}) one->Arg(weeks);
}

void minutes_to_try(benchmark::internal::Benchmark* one) {
  for (const int minutes : {90, 180, 300}) one->Arg(minutes);
}

BENCHMARK_CAPTURE(weeks_of, quick, false)->Apply(weeks_to_try)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(weeks_of, proven, true)->Apply(weeks_to_try)->Iterations(1)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(minutes_of, quick, false)->Apply(minutes_to_try)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(minutes_of, proven, true)
    ->Apply(minutes_to_try)
    ->Iterations(1)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(events_of, quick_us_air_force_walk, "us-air-force-walk", false)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(events_of, quick_us_marine_pft, "us-marine-pft", false)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(events_of, quick_us_army_aft, "us-army-aft", false)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(events_of, quick_heptathlon, "athletics-heptathlon", false)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(events_of, quick_decathlon, "athletics-decathlon", false)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace backplan::bench

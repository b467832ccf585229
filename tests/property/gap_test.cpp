// How near the best a plan is proved to be: the bound less the value, over invented candidates.
// BACKPLAN_PROPERTY_CASES sets how many (200 without it).
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "backplan/planner.hpp"
#include "property/case_count.hpp"
#include "property/shipped_data.hpp"
#include "support/random_candidates.hpp"

namespace backplan::testing {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 11 / 2};
constexpr int kUsualCases = 200;
constexpr double kAgreedGap = 0.1;  // points
constexpr int kAgreedPercent = 95;
constexpr double kRoundingSlack = 1e-9;

struct Case {
  int seed = 0;
  double gap = 0.0;
  double seconds = 0.0;
  std::string who;
};

const std::vector<int>& minutes_a_week() {
  static const std::vector<int> kMinutes = {90, 120, 180, 240};
  return kMinutes;
}

int minutes_of(int seed) {
  return minutes_a_week()[static_cast<std::size_t>(seed) % minutes_a_week().size()];
}

// None where a plan is refused: there is nothing to prove.
std::optional<Case> solve(int seed) {
  RandomSource random(static_cast<std::uint64_t>(seed));
  const std::vector<std::string> ids = {"us-army-aft", "us-army-acft-2022"};
  const Standard& standard = shipped_standard(random.choice(ids));
  CandidateKnobs knobs;
  knobs.minutes_a_week = minutes_of(seed);
  const Candidate candidate = random_candidate(random, standard, kToday, knobs);
  PlanOptions options;
  options.ways_out = false;
  options.write_out = false;
  const auto start = std::chrono::steady_clock::now();
  const Plan plan = make_plan(candidate, {standard, shipped_model(), shipped_rules()}, kToday, options);
  const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
  if (!plan.refused.empty()) return std::nullopt;
  return Case{seed, plan.optimality.bound.value() - plan.optimality.value, taken.count(),
              describe(candidate)};
}

std::string quantiles(const std::string& name, std::vector<Case> cases) {
  if (cases.empty()) return {};
  std::sort(cases.begin(), cases.end(), [](const Case& a, const Case& b) { return a.gap < b.gap; });
  std::vector<double> seconds;
  for (const Case& one : cases) seconds.push_back(one.seconds);
  std::sort(seconds.begin(), seconds.end());
  const auto at = [&](double share) {
    return std::min(cases.size() - 1, static_cast<std::size_t>(share * static_cast<double>(cases.size())));
  };
  const auto under =
      std::count_if(cases.begin(), cases.end(), [](const Case& c) { return c.gap < kAgreedGap; });
  return fmt::format("{:>8} {:5} {:8.4f} {:8.4f} {:8.4f} {:8.4f} {:6.1f} % {:8.2f} {:8.2f}\n", name,
                     cases.size(), cases[at(0.5)].gap, cases[at(0.9)].gap, cases[at(0.95)].gap,
                     cases.back().gap, 100.0 * static_cast<double>(under) / static_cast<double>(cases.size()),
                     seconds[at(0.5)], seconds.back());
}

std::string table(const std::vector<Case>& cases) {
  std::string text = fmt::format("{:>8} {:>5} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8}\n", "minutes",
                                 "cases", "gap 50%", "90%", "95%", "worst", "< 0.1", "s 50%", "s worst");
  for (const int minutes : minutes_a_week()) {
    std::vector<Case> some;
    std::copy_if(cases.begin(), cases.end(), std::back_inserter(some),
                 [&](const Case& one) { return minutes_of(one.seed) == minutes; });
    text += quantiles(fmt::format("{}", minutes), some);
  }
  return text + quantiles("all", cases);
}

TEST(Gap, IsUnderATenthOfAPointForNinetyFiveOfAHundred) {
  std::vector<Case> cases;
  const int number = property_cases(kUsualCases);
  for (int seed = 1; seed <= number; ++seed) {
    const auto one = solve(seed);
    if (!one) continue;
    EXPECT_GE(one->gap, -kRoundingSlack) << "seed " << seed << ": a bound under the value\n" << one->who;
    cases.push_back(*one);
  }
  const std::string text = table(cases);
  std::fputs(text.c_str(), stdout);
  std::string wide;
  std::map<int, int> judged;  // by minutes a week
  std::map<int, int> under;
  for (const Case& one : cases) {
    const int minutes = minutes_of(one.seed);
    ++judged[minutes];
    if (one.gap < kAgreedGap) ++under[minutes];
    if (one.gap >= kAgreedGap)
      wide += fmt::format("seed {} gap {:.3f} in {:.1f} s\n", one.seed, one.gap, one.seconds);
  }
  for (const auto& [minutes, of] : judged) {
    // Of a few cases one may be wide.
    const bool holds = 100 * under[minutes] >= kAgreedPercent * of || under[minutes] + 1 == of;
    EXPECT_TRUE(holds) << minutes << " minutes a week\n" << text << wide;
  }
}

}  // namespace
}  // namespace backplan::testing

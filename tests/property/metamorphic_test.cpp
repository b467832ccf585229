// What must hold between two plans whose candidates differ in one thing: more never costs points,
// and the order in which things are listed changes nothing.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "backplan/planner.hpp"
#include "io/plan_json.hpp"
#include "property/case_count.hpp"
#include "property/shipped_data.hpp"
#include "support/random_candidates.hpp"

namespace backplan::testing {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 11 / 2};
constexpr int kUsualCases = 60;
// The quick search is not exhaustive: so much may be lost by it.
constexpr double kSearchSlack = 0.1;  // points
constexpr std::size_t kPrinted = 3;

struct Situation {
  const Standard& standard;
  Candidate candidate;
};

const Standard& standard_of(RandomSource& random) {
  const std::vector<std::string> ids = {"us-army-aft", "us-army-acft-2022"};
  return shipped_standard(random.choice(ids));
}

Situation draw(int seed) {
  RandomSource random(static_cast<std::uint64_t>(seed));
  const Standard& standard = standard_of(random);
  CandidateKnobs knobs;
  knobs.minutes_a_week = 90 + 50 * (seed % 4);
  knobs.weeks_to_test = 3 + seed % 14;
  Candidate candidate = random_candidate(random, standard, kToday, knobs);
  candidate.aim = Aim::highest;
  return {standard, candidate};
}

Plan plan_of(const Situation& of, const Candidate& candidate, bool write_out = false) {
  PlanOptions options;
  options.prove = false;
  options.ways_out = false;
  options.write_out = write_out;
  return make_plan(candidate, {of.standard, shipped_model(), shipped_rules()}, kToday, options);
}

struct Loss {
  int seed = 0;
  double points = 0.0;
  std::string text;
};

// Changes a candidate for the better; false where there is nothing to change.
using Change = std::function<bool(const Situation&, Candidate&)>;

void never_costs(const std::string& what, double tolerance, const Change& change) {
  std::vector<Loss> losses;
  int compared = 0;
  for (int seed = 1; seed <= property_cases(kUsualCases); ++seed) {
    const Situation situation = draw(seed);
    Candidate better = situation.candidate;
    if (!change(situation, better)) continue;
    ++compared;
    const double before = plan_of(situation, situation.candidate).optimality.value;
    const double after = plan_of(situation, better).optimality.value;
    if (after < before - tolerance) {
      losses.push_back(
          {seed, before - after, describe(situation.candidate) + "changed to\n" + describe(better)});
    }
  }
  EXPECT_GT(compared, 0) << "nothing was compared";
  std::sort(losses.begin(), losses.end(), [](const Loss& a, const Loss& b) { return a.points > b.points; });
  std::string text;
  for (std::size_t i = 0; i < losses.size(); ++i) {
    text += fmt::format("seed {} loses {:.3f}\n", losses[i].seed, losses[i].points);
    if (i < kPrinted) text += losses[i].text;
  }
  EXPECT_TRUE(losses.empty()) << what << " costs points in " << losses.size() << " of " << compared << "\n"
                              << text;
}

bool has_plan(const Candidate& candidate) {
  const MedicalStatus status = candidate.medical.status;
  return status == MedicalStatus::none || status == MedicalStatus::profile;
}

TEST(Metamorphic, ABetterLatestResultNeverLowersTheValue) {
  never_costs("a better result", kSearchSlack, [](const Situation& of, Candidate& better) {
    if (better.results.empty()) return false;
    DatedResult& latest = better.results.back();
    const Event& event = *of.standard.find_event(latest.event);
    const bool more = event.direction == Direction::more_is_better;
    latest.value *= more ? 1.05 : 1.0 / 1.05;
    return true;
  });
}

TEST(Metamorphic, EveryResultBetterNeverLowersTheValue) {
  never_costs("better results", kSearchSlack, [](const Situation& of, Candidate& better) {
    for (DatedResult& result : better.results) {
      const Event& event = *of.standard.find_event(result.event);
      result.value *= event.direction == Direction::more_is_better ? 1.05 : 1.0 / 1.05;
    }
    return !better.results.empty();
  });
}

TEST(Metamorphic, MoreMinutesNeverLowerTheValue) {
  never_costs("more minutes", kSearchSlack, [](const Situation&, Candidate& better) {
    for (int& minutes : better.week) minutes += minutes > 0 ? 15 : 0;
    return has_plan(better);
  });
}

TEST(Metamorphic, OneMoreHomeBlockNeverLowersTheValue) {
  never_costs("a home block", kSearchSlack, [](const Situation&, Candidate& better) {
    ++better.home_blocks;
    return has_plan(better);
  });
}

TEST(Metamorphic, ALaterTestNeverLowersTheValueWithinTheSameAge) {
  never_costs("a week more", kSearchSlack, [](const Situation& of, Candidate& better) {
    const auto band = [&] { return of.standard.band_of(age_on(better.birth_date, better.test_date)); };
    const auto age = age_on(better.birth_date, better.test_date);
    const auto before = band();
    better.test_date += Days{7};
    return has_plan(better) && band() == before && age_on(better.birth_date, better.test_date) == age;
  });
}

TEST(Metamorphic, OneBlockedDayLessNeverLowersTheValue) {
  never_costs("a blocked day less", kSearchSlack, [](const Situation&, Candidate& better) {
    for (std::size_t i = 0; i < better.blocked.size(); ++i) {
      BlockedSpell& spell = better.blocked[i];
      if (spell.to < kToday) continue;
      if (spell.from == spell.to) {
        better.blocked.erase(better.blocked.begin() + static_cast<std::ptrdiff_t>(i));
      } else {
        spell.to -= Days{1};
      }
      return has_plan(better);
    }
    return false;
  });
}

std::string bytes_of(const Situation& of, const Candidate& candidate) {
  return io::write_plan(plan_of(of, candidate, true), of.standard, "test");
}

void changes_nothing(const Change& change) {
  int compared = 0;
  for (int seed = 1; seed <= property_cases(kUsualCases); ++seed) {
    const Situation situation = draw(seed);
    Candidate other = situation.candidate;
    if (!change(situation, other)) continue;
    ++compared;
    EXPECT_TRUE(bytes_of(situation, situation.candidate) == bytes_of(situation, other))
        << "seed " << seed << "\n"
        << describe(situation.candidate) << "changed to\n"
        << describe(other);
  }
  EXPECT_GT(compared, 0) << "nothing was compared";
}

TEST(Metamorphic, TheOrderOfResultsChangesNothing) {
  changes_nothing([](const Situation&, Candidate& other) {
    std::reverse(other.results.begin(), other.results.end());
    return other.results.size() > 1;
  });
}

TEST(Metamorphic, TheOrderOfDaysSpellsAndFixedWorkChangesNothing) {
  changes_nothing([](const Situation&, Candidate& other) {
    std::reverse(other.days.begin(), other.days.end());
    std::reverse(other.blocked.begin(), other.blocked.end());
    std::reverse(other.diagnostics.begin(), other.diagnostics.end());
    std::reverse(other.avoid.begin(), other.avoid.end());
    return other.days.size() + other.blocked.size() + other.avoid.size() > 1;
  });
}

TEST(Metamorphic, TheOrderOfPlatesChangesNothing) {
  changes_nothing([](const Situation&, Candidate& other) {
    auto& plates = other.equipment.plates_lb;
    std::reverse(plates.begin(), plates.end());
    return plates.size() > 1;
  });
}

TEST(Metamorphic, AnotherIdChangesOnlyTheId) {
  for (int seed = 1; seed <= property_cases(kUsualCases); ++seed) {
    const Situation situation = draw(seed);
    Candidate other = situation.candidate;
    other.id = "somebody-else";
    Plan renamed = plan_of(situation, other, true);
    EXPECT_EQ(renamed.candidate, other.id);
    renamed.candidate = situation.candidate.id;
    EXPECT_TRUE(io::write_plan(renamed, situation.standard, "test") ==
                bytes_of(situation, situation.candidate))
        << "seed " << seed << "\n"
        << describe(situation.candidate);
  }
}

TEST(Metamorphic, TheSameCandidateTwiceGivesTheSameBytes) {
  changes_nothing([](const Situation&, Candidate&) { return true; });
}

}  // namespace
}  // namespace backplan::testing

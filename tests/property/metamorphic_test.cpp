// What must hold between two plans whose candidates differ in one thing: more never costs points,
// and the order in which things are listed changes nothing.
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <functional>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include "backplan/planner.hpp"
#include "io/plan_json.hpp"
#include "io/readers.hpp"
#include "property/case_count.hpp"
#include "property/shipped_data.hpp"
#include "support/random_candidates.hpp"

namespace backplan::testing {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 11 / 2};
constexpr int kUsualCases = 60;
// What a proven plan may be under the best there is.
constexpr double kSearchSlack = 0.1;  // points
constexpr std::size_t kPrinted = 3;

// Whether to draw another: so many as were asked for, and on until a change found something to change.
bool goes_on(int seed, int compared) {
  return seed <= property_cases(kUsualCases) || (compared == 0 && seed <= kUsualCases);
}

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
  for (int seed = 1; goes_on(seed, compared); ++seed) {
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

int available(const Candidate& candidate) {
  return std::accumulate(candidate.week.begin(), candidate.week.end(), 0) + 10 * candidate.home_blocks;
}

// From some minutes on the rules ask for a longer taper: that may cost more than the minutes bring.
bool same_taper(const Candidate& a, const Candidate& b) {
  return taper_days(shipped_rules(), available(a)) == taper_days(shipped_rules(), available(b));
}

// Who cannot hold an event in the time there is loses more of it in every further day.
bool holds_everything(const Situation& of, const Candidate& candidate) {
  const Plan plan = plan_of(of, candidate, true);
  // The build week of most minutes, by what is expected at its end and a week before.
  std::size_t usual = 0;
  for (std::size_t w = 1; w < plan.weeks.size(); ++w) {
    const PlannedWeek& week = plan.weeks[w];
    if (week.phase != Phase::build) continue;
    if (usual == 0 || week.minutes > plan.weeks[usual].minutes) usual = w;
  }
  if (usual == 0) return plan.given_up.empty();
  for (std::size_t e = 0; e < of.standard.events.size(); ++e) {
    const double before = plan.weeks[usual - 1].milestones[e].result;
    const double after = plan.weeks[usual].milestones[e].result;
    const bool more = of.standard.events[e].direction == Direction::more_is_better;
    if (more ? after < before : after > before) return false;
  }
  return plan.given_up.empty();
}

TEST(Metamorphic, MoreMinutesNeverLowerTheValueWithinTheSameTaper) {
  never_costs("more minutes", kSearchSlack, [](const Situation& of, Candidate& better) {
    for (int& minutes : better.week) minutes += minutes > 0 ? 15 : 0;
    return has_plan(better) && same_taper(of.candidate, better);
  });
}

TEST(Metamorphic, OneMoreHomeBlockNeverLowersTheValueWithinTheSameTaper) {
  never_costs("a home block", kSearchSlack, [](const Situation& of, Candidate& better) {
    ++better.home_blocks;
    return has_plan(better) && same_taper(of.candidate, better);
  });
}

TEST(Metamorphic, ALaterTestNeverLowersTheValueOfWhoHoldsEverythingAtTheSameAge) {
  never_costs("a week more", kSearchSlack, [](const Situation& of, Candidate& better) {
    better.test_date += Days{7};
    const auto age = [](const Candidate& one) { return age_on(one.birth_date, one.test_date); };
    return has_plan(better) && age(better) == age(of.candidate) && holds_everything(of, better);
  });
}

TEST(Metamorphic, OneBlockedDayLessNeverLowersTheValueOfWhoHoldsEverything) {
  never_costs("a blocked day less", kSearchSlack, [](const Situation& of, Candidate& better) {
    for (std::size_t i = 0; i < better.blocked.size(); ++i) {
      BlockedSpell& spell = better.blocked[i];
      if (spell.to < kToday) continue;
      if (spell.from == spell.to) {
        better.blocked.erase(better.blocked.begin() + static_cast<std::ptrdiff_t>(i));
      } else {
        spell.to -= Days{1};
      }
      return has_plan(better) && holds_everything(of, better);
    }
    return false;
  });
}

std::string bytes_of(const Situation& of, const Candidate& candidate) {
  return io::write_plan(plan_of(of, candidate, true), of.standard, "test");
}

void changes_nothing(const Change& change) {
  int compared = 0;
  for (int seed = 1; goes_on(seed, compared); ++seed) {
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

// A candidate file whose lists and keys are in another order each time.
std::string shuffled_file(RandomSource& random) {
  const auto shuffled = [&](std::vector<std::string> items) {
    for (std::size_t i = items.size(); i > 1; --i) {
      std::swap(items[i - 1], items[static_cast<std::size_t>(random.integer(0, static_cast<int>(i) - 1))]);
    }
    return fmt::format("{}", fmt::join(items, ",\n"));
  };
  const auto result = [](const char* date, const char* event, const char* value) {
    return fmt::format(R"({{"date": "{}", "event": "{}", "value": "{}", "setting": "practice"}})", date,
                       event, value);
  };
  const std::string results =
      shuffled({result("2026-10-01", "MDL", "170 lb"), result("2026-10-01", "MDL", "190 lb"),
                result("2026-10-20", "HRP", "22"), result("2026-10-20", "SDC", "2:20"),
                result("2026-10-20", "PLK", "1:50"), result("2026-10-28", "2MR", "19:40")});
  const std::string week = shuffled({R"("mon": 60)", R"("tue": 0)", R"("wed": 60)", R"("thu": 0)",
                                     R"("fri": 45)", R"("sat": 30)", R"("sun": 0)"});
  const std::string blocked =
      shuffled({R"({"from": "2026-11-20", "to": "2026-11-22", "kind": "field", "why": "range"})",
                R"({"from": "2026-12-20", "to": "2026-12-27", "kind": "rest", "why": "leave"})"});
  const std::string days = shuffled(
      {R"({"date": "2026-11-12", "minutes": 90})", R"({"date": "2026-11-14", "after_night_shift": true})"});
  return "{" +
         shuffled({R"("format": "backplan-candidate/1")", R"("id": "invented")", R"("column": "female")",
                   R"("birth_date": "2001-05-02")", R"("standard": "us-army-aft")",
                   R"("category": "general")", R"("test_date": "2027-02-01")", R"("target": {"total": 380})",
                   R"("aim": "highest")", R"("results": [)" + results + "]", R"("week": {)" + week + "}",
                   R"("blocked": [)" + blocked + "]", R"("days": [)" + days + "]"}) +
         "}";
}

TEST(Metamorphic, TheOrderOfKeysAndListsInTheFileChangesNothing) {
  constexpr int kOrders = 10;
  RandomSource random(5);
  const Standard& standard = shipped_standard("us-army-aft");
  std::string first;
  for (int i = 0; i < kOrders; ++i) {
    const std::string text = shuffled_file(random);
    const auto candidate = io::read_candidate(text, "candidate.json", standard, shipped_model(), kToday);
    ASSERT_TRUE(candidate.ok()) << to_string(candidate.faults().front()) << text;
    const std::string bytes = bytes_of({standard, candidate.value()}, candidate.value());
    if (first.empty()) first = bytes;
    EXPECT_TRUE(bytes == first) << text;
  }
}

TEST(Metamorphic, TheOrderOfDaysAndSpellsChangesNothing) {
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

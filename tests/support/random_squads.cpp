#include "support/random_squads.hpp"

#include <fmt/format.h>

#include "support/random_candidates.hpp"

namespace backplan::testing {
namespace {

std::array<int, 7> random_mornings(RandomSource& random, bool plain) {
  std::array<int, 7> mornings{};
  for (std::size_t d = 0; d < 5; ++d) {
    mornings[d] =
        plain ? random.integer(12, 18) * 5 : random.choice(std::vector<int>{0, 5, 25, 45, 60, 70, 90});
  }
  if (!plain && random.chance(0.2)) mornings[5] = 60;
  return mornings;
}

SquadEquipment random_kit(RandomSource& random, int people, bool plain) {
  SquadEquipment kit;
  kit.hex_bars = plain ? std::max(2, people / 5) : random.integer(0, 4);
  kit.sleds = plain ? std::max(1, people / 6) : random.integer(0, 2);
  kit.kettlebell_pairs = plain ? kit.sleds : random.integer(0, 3);
  kit.track = plain || random.chance(0.7);
  kit.pull_up_bar = random.chance(0.5);
  kit.throw_balls = random.integer(0, 2);
  for (int bar = 0; bar < kit.hex_bars; ++bar) {
    for (const double plate : {45.0, 45.0, 45.0, 45.0, 35.0, 25.0, 10.0, 5.0}) {
      if (!plain && random.chance(0.3)) continue;
      kit.plates_lb.push_back(plate);
      kit.plates_lb.push_back(plate);
    }
  }
  return kit;
}

void put_in_squad(Candidate& candidate, const Squad& squad) {
  candidate.test_date = squad.test_date;
  candidate.week = squad.mornings;
  candidate.home_blocks = 0;
  candidate.days.clear();
  candidate.fixed.clear();
  candidate.diagnostics.clear();
  candidate.now = {};
  candidate.blocked = squad.blocked;
  candidate.equipment = {squad.equipment.hex_bars > 0,
                         squad.equipment.bar_lb,
                         squad.equipment.plates_lb,
                         squad.equipment.sleds > 0,
                         squad.equipment.kettlebell_pairs > 0,
                         squad.equipment.pull_up_bar,
                         squad.equipment.track,
                         squad.equipment.throw_balls > 0};
  candidate.target.confidence = squad.confidence;
  candidate.target.pass_confidence = squad.confidence;
}

}  // namespace

Squad random_squad(RandomSource& random, const Standard& standard, Date as_of, const SquadKnobs& knobs) {
  Squad squad;
  squad.id = "invented";
  squad.standard = standard.id;
  squad.test_date = as_of + Days(knobs.plain ? random.integer(56, 120) : random.integer(0, 160));
  squad.mornings = random_mornings(random, knobs.plain);
  squad.equipment = random_kit(random, knobs.people, knobs.plain);
  squad.most_groups = random.integer(1, 4);
  squad.exactly = random.chance(0.2);
  squad.goal = random.choice(
      std::vector<SquadGoal>{SquadGoal::fewest_failing, SquadGoal::most_at_target, SquadGoal::highest_mean});
  if (!knobs.plain && random.chance(0.5)) {
    const Date from = as_of + Days(random.integer(5, 60));
    const auto kind =
        random.choice(std::vector<BlockedKind>{BlockedKind::rest, BlockedKind::light, BlockedKind::field});
    squad.blocked.push_back({from, from + Days(random.integer(1, 12)), kind, "invented"});
  }
  for (int i = 0; i < knobs.people; ++i) {
    CandidateKnobs person;
    person.days_to_test = static_cast<int>((squad.test_date - as_of).count());
    person.plain = knobs.plain || random.chance(0.6);
    Member member;
    member.candidate = random_candidate(random, standard, as_of, person);
    put_in_squad(member.candidate, squad);
    if (!knobs.plain && random.chance(0.1)) {
      const Date from = as_of + Days(random.integer(0, 30));
      member.candidate.blocked.push_back(
          {from, from + Days(random.integer(0, 20)), BlockedKind::rest, "absent"});
    }
    if (!knobs.plain && random.chance(0.1))
      member.candidate.test_date = squad.test_date + Days(random.integer(1, 20));
    member.candidate.id = fmt::format("P-{:02}", i + 1);
    member.display = member.candidate.id;
    squad.members.push_back(std::move(member));
  }
  return squad;
}

ChoiceProblem random_choice(RandomSource& random, std::size_t people, std::size_t patterns,
                            int most_patterns) {
  constexpr std::size_t kLanes = 4;
  ChoiceProblem out;
  out.people = people;
  out.patterns = patterns;
  out.lanes = kLanes;
  out.most_patterns = most_patterns;
  out.exactly = random.chance(0.2);
  for (std::size_t i = 0; i < people * patterns; ++i) out.value.push_back(random.real());
  for (std::size_t i = 0; i < patterns * kLanes; ++i)
    out.use.push_back(random.chance(0.4) ? 1.0 / random.integer(1, 3) : 0.0);
  for (std::size_t r = 0; r < kLanes; ++r)
    out.capacity.push_back(random.integer(0, static_cast<int>(people) / 2 + 1));
  for (std::size_t i = 0; i < people; ++i) out.needs.push_back(random.chance(0.9) ? 1 : 0);
  return out;
}

}  // namespace backplan::testing

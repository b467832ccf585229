// Prints the problems of invented squads as JSON Lines, with our own answers, for squad_milp.py: which
// patterns for whom, and how a morning's loads are cut into lanes. One argument: the number of squads.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <string>

#include "backplan/lanes.hpp"
#include "backplan/patterns.hpp"
#include "backplan/programme.hpp"
#include "io/json_write.hpp"
#include "property/shipped_data.hpp"
#include "reference/cases.hpp"
#include "support/random_squads.hpp"

namespace backplan::testing {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 11 / 2};

void print_choice(const ChoiceProblem& problem) {
  const Choice found = choose_patterns(problem);
  io::Json json;
  json["kind"] = "choice";
  json["people"] = problem.people;
  json["patterns"] = problem.patterns;
  json["lanes"] = problem.lanes;
  json["value"] = problem.value;
  json["use"] = problem.use;
  json["capacity"] = problem.capacity;
  json["needs"] = problem.needs;
  json["most"] = problem.most_patterns;
  json["exactly"] = problem.exactly;
  json["possible"] = found.possible;
  json["found"] = found.possible ? found.value : 0.0;
  json["bound"] = found.possible ? found.bound : 0.0;
  print_case(json);
}

void print_lanes(RandomSource& random, const Equipment& equipment) {
  constexpr std::size_t kMost = 4;
  const auto lanes = static_cast<std::size_t>(random.integer(2, 4));
  std::vector<Pounds> loads;
  for (int i = random.integer(3, std::min<int>(14, static_cast<int>(lanes * kMost))); i > 0; --i)
    loads.emplace_back(60.0 + 10.0 * random.integer(0, 18));
  std::sort(loads.begin(), loads.end());
  const auto cut = cut_lanes(loads, lanes, kMost, equipment);
  if (!cut) return;
  io::Json json;
  json["kind"] = "lanes";
  json["people"] = loads.size();
  json["lanes"] = lanes;
  json["moves"] = cut->moves;
  json["cuts"] = io::Json::array();
  for (std::size_t from = 0; from < loads.size(); ++from) {
    for (std::size_t size = 1; size <= std::min(kMost, loads.size() - from); ++size) {
      const auto begin = loads.begin() + static_cast<std::ptrdiff_t>(from);
      json["cuts"].push_back(
          {from, size, round_moves({begin, begin + static_cast<std::ptrdiff_t>(size)}, equipment)});
    }
  }
  print_case(json);
}

int run(int squads) {
  const Knowledge knowledge{shipped_standard("us-army-aft"), shipped_model(), shipped_rules()};
  for (int seed = 1; seed <= squads; ++seed) {
    RandomSource random(static_cast<std::uint64_t>(seed));
    SquadKnobs knobs;
    knobs.people = random.integer(6, 40);
    knobs.plain = true;
    Squad squad = random_squad(random, knowledge.standard, kToday, knobs);
    squad.most_groups = random.integer(2, 3);
    squad.equipment.hex_bars = std::max(1, squad.equipment.hex_bars / random.integer(1, 3));
    ProgrammeOptions options;
    options.on_choice = print_choice;
    static_cast<void>(make_programme(squad, knowledge, kToday, {}, options));
    print_lanes(random, squad.members.front().candidate.equipment);
  }
  return 0;
}

}  // namespace
}  // namespace backplan::testing

int main(int argc, char** argv) {
  const auto numbers = backplan::testing::numbers_from(argc, argv, {20}, "squad_cases [NUMBER OF SQUADS]");
  return numbers ? backplan::testing::run(numbers->front()) : 2;
}

// One trainer, a roster, shared mornings, few bars: what squad.json and roster.csv say. A Squad that exists
// is valid: io/squad_reader and io/roster_reader have refused everything else. docs/squad.md.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/units.hpp"

namespace backplan {

enum class SquadGoal { fewest_failing, most_at_target, highest_mean };
[[nodiscard]] std::string to_string(SquadGoal goal);  // "fewest failing", ...

// What there is for all together. Plates are shared by all bars.
struct SquadEquipment {
  int hex_bars = 0;
  double bar_lb = 60.0;
  std::vector<double> plates_lb;  // single plates
  int sleds = 0;
  int kettlebell_pairs = 0;
  bool pull_up_bar = false;
  bool track = false;
  int throw_balls = 0;
};

// One line of the roster, as a candidate whose week is the common mornings and whose equipment is the
// squad's: so a member is fitted, planned and checked as a single candidate is.
struct Member {
  Candidate candidate;
  std::string display;  // the name on the sheets; the id where none is given
  int line = 0;         // of the roster
};

struct Squad {
  std::string id;
  std::string standard;
  Date test_date;
  std::array<int, 7> mornings{};  // minutes, Monday first
  std::vector<BlockedSpell> blocked;
  SquadEquipment equipment;
  int most_groups = 3;
  bool exactly = false;  // so many groups, not fewer
  SquadGoal goal = SquadGoal::fewest_failing;
  double confidence = 0.8;
  bool pooling = true;          // what the logs teach of the squad moves everybody's prior
  std::vector<Member> members;  // in the order of the roster
  std::vector<std::string> defaulted;
};

}  // namespace backplan

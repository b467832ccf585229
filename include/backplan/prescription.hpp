// What to do in one block: load, repetitions, pace, holds, with the reason and the rule to stop.
// docs/mathematics.md, "Prescription".
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/standard.hpp"

namespace backplan {

// All that a block's text depends on, as values. Maps are by model event id ("MDL", "2MR"); results
// are in the event's unit (lb, repetitions, seconds, metres).
struct Situation {
  const Candidate* candidate = nullptr;
  const Standard* standard = nullptr;
  const Model* model = nullptr;
  Date date;
  Phase phase = Phase::build;
  int weeks_to_test = 0;                   // index of the week, 1 = the last
  int training_week = 0;                   // 0 = the first week of this plan
  int nth_this_week = 0;                   // 0 = the week's first block of this kind
  bool rehearsal = false;                  // the calendar has set this block down as a timed rehearsal
  bool graded_hold = false;                // this week's trunk block ends in one graded hold
  bool top_triple = false;                 // this week's lift ends in one top triple
  bool form_first = false;                 // `new` in the first two weeks, and whoever comes back
  bool coming_back = false;                // to this work after weeks without it
  std::map<std::string, double> expected;  // at the start of the week
  std::map<std::string, double> proven;    // the best result really shown lately; absent if never
  std::map<std::string, double> goal;      // asked of the test day, where a target implies one
  std::map<std::string, bool> goal_in_reach;
  Metres longest_run{0.0};   // longest unbroken run of the last 30 days, planned ones included
  double run_growth = 1.10;  // most that a run may grow over it
  Metres run_floor{0.0};     // but up to here it may always go
  std::vector<std::pair<std::string, double>> pays;  // event, points this work brings by the test
};

// The block with its texts and figures. Minutes come from the work kind and size.
[[nodiscard]] Block prescribe(const WorkKind& work, BlockSize size, const Situation& situation);

// The heaviest load not above `wanted` that the bar and plates make; up when that is nearer, within
// 2 % above `wanted` and not above `cap`. At least the empty bar.
[[nodiscard]] Pounds loadable(Pounds wanted, Pounds cap, const Equipment& equipment);

}  // namespace backplan

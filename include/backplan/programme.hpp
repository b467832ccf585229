// The squad's programme: groups with their weekly patterns, everybody's plan, the mornings from minute to
// minute, who is at risk and what is cheapest. docs/squad.md.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "backplan/history.hpp"
#include "backplan/patterns.hpp"
#include "backplan/plan.hpp"
#include "backplan/planner.hpp"
#include "backplan/pooling.hpp"
#include "backplan/squad.hpp"
#include "backplan/work_off.hpp"

namespace backplan {

struct PatternBlock {
  std::string work;
  BlockSize size = BlockSize::full;
  friend bool operator==(const PatternBlock&, const PatternBlock&) = default;
};
struct Pattern {
  std::array<std::vector<PatternBlock>, 7> days;  // Monday first, in the order to do them
  friend bool operator==(const Pattern&, const Pattern&) = default;
};

struct Group {
  std::string id;  // "A"
  Pattern pattern;
  std::vector<std::string> members;  // ids, in the order of the roster
  std::string why;
};

// A short block at home that one person needs beyond the common mornings.
struct Extra {
  Date date;
  Block block;
  std::optional<WorkOff> off =
      std::nullopt;  // taken off since the programme was made: only on what is printed, not kept
};

struct Weakest {
  std::string event;
  double p_minimum = 1.0;
};
struct Cheapest {
  std::string work;
  std::string event;
  double points_per_hour = 0.0;
};

struct Person {
  std::string id;
  std::string display;
  std::string group;  // empty: referred, and in no group
  Outlook outlook;
  double p_fail = 1.0;
  std::optional<Weakest> weakest;
  std::optional<Cheapest> cheapest;
  std::vector<Extra> extra;
  std::vector<std::string> notes;  // substitutes and referrals
  std::string refused;             // why there is no plan; empty: there is one
  bool done = false;               // the own test is over: nothing is planned any more
  Date test_date;
  Candidate candidate;  // as it was planned, for the checker; not kept in programme.json
  Plan plan;            // not kept in programme.json: the mornings hold what is done
};

// Who is planned is counted among those who would pass or fail; nobody else is.
[[nodiscard]] inline bool is_planned(const Person& person) { return person.refused.empty() && !person.done; }

struct Turn {
  std::string id;
  double from = 0.0, to = 0.0;  // minutes from the start of the morning
  std::string prescription;
  std::optional<Pounds> load;
  std::optional<Pounds> planned_load;  // where the plates made it a lighter one
  std::optional<Seconds> quarter;
  std::optional<BlockSize> size;              // of the block; not known from old files
  std::optional<WorkOff> off = std::nullopt;  // as of an Extra
};

struct Station {
  std::string work;
  std::string lane;         // "bar 1", "sled 2", "run group 1"; empty where there is room for all
  std::string equipment;    // "60 lb bar with 2×45 a side"; empty without kit
  std::string note;         // a leader's lap time, what a lane has too few of
  std::vector<Turn> turns;  // on a shared lane one turn is one set with its set-up, elsewhere a stay
};

struct Morning {
  Date date;
  int minutes = 0;
  std::vector<Station> stations;
  std::vector<std::string> notes;
};

// What does not fit, said beforehand, with the cheapest way to make it fit.
struct Shortfall {
  int weekday = 0;
  std::string what;
  std::string remedy;
};

// Of those who are planned.
struct SquadOutlook {
  TotalOutlook mean;  // of the points of one person
  double expected_failing = 0.0;
  double low80 = 0.0, high80 = 0.0;  // people who fail
};

// Somebody whose group's week is another one than before.
struct Move {
  std::string id, from, to;
  std::optional<double> gain;  // of the goal; none where it is less than a move must bring
  bool given_up = false;       // the old week, by the whole squad; else, without a gain, the lanes are full
};

struct Programme {
  std::string squad;
  Date as_of;
  Date test_date;
  std::string standard, standard_hash, model_hash;
  std::string basis;            // a hash of all files that it was made from
  int revision = 0;             // of the programme in calendars: 0 is the first
  std::vector<Date> withdrawn;  // days to come of earlier revisions on which nobody trains any more
  SquadGoal goal = SquadGoal::fewest_failing;
  double confidence = 0.8;
  std::vector<Group> groups;
  std::vector<Person> people;  // in the order of the roster
  std::vector<Morning> mornings;
  SquadOutlook outlook;
  Optimality optimality;  // of the choice of patterns
  int patterns_compared = 0;
  double gain = 0.0;  // of the choice over no training, on the same value
  std::vector<PooledEvent> pooled;
  std::vector<Shortfall> shortfalls;
  std::vector<Move> moves;  // against the groups that were kept; not kept in programme.json
  std::vector<std::string> refused, cautions;
  std::vector<Assumption> assumptions;
};

struct ProgrammeOptions {
  // Called with the share of the work that is done, 0 to 1.
  std::function<void(double)> progress;
  // Groups to keep unless a change pays (squad replan); none: chosen freely.
  std::vector<Group> kept;
  // Gets every choice that is made, for those who solve it another way.
  std::function<void(const ChoiceProblem&)> on_choice;
};

// `histories`: one a member, or none at all.
[[nodiscard]] Programme make_programme(const Squad& squad, const Knowledge& knowledge, Date as_of,
                                       const std::vector<History>& histories = {},
                                       const ProgrammeOptions& options = {});

// The independent checker of a programme: everybody's plan by check_plan, and every morning: nobody in two
// places, no lane used twice, plates and minutes enough, rests respected.
struct SquadViolation {
  std::string rule;  // of check_plan, or: morning-minutes morning-place morning-lane morning-plates
                     // morning-kit morning-rest morning-plan extras test-over
  std::string who;   // empty: the whole squad
  Date where;
  std::string what;
};
[[nodiscard]] std::vector<SquadViolation> check_programme(const Programme& programme, const Squad& squad,
                                                          const Knowledge& knowledge);

}  // namespace backplan

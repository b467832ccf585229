// The parts of a programme that follow from everybody's plan: risk, outlook, mornings, remedies.
#pragma once

#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "backplan/patterns.hpp"
#include "backplan/programme.hpp"
#include "core/common_week.hpp"
#include "core/member_planner.hpp"

namespace backplan {

using MemberPlanners = std::vector<std::unique_ptr<MemberPlanner>>;

// One lane of the choice: a shared kind of kit on one weekday.
struct LaneOfWeek {
  int weekday = 0;
  std::string work, word;
  int lanes = 0;
};

[[nodiscard]] std::vector<LaneOfWeek> lanes_of_week(const CommonWeek& week, const Squad& squad);
// Waves of the pattern's block on this lane in a morning of so many minutes; 0: it does not use the lane.
[[nodiscard]] int waves_for(const Pattern& pattern, const LaneOfWeek& lane, int minutes,
                            const Knowledge& knowledge);

// Of `among` at most so many people, as unlike each other as can be: each next one is the farthest from those
// before.
[[nodiscard]] std::vector<std::size_t> unlike_people(const MemberPlanners& planners,
                                                     const std::vector<std::size_t>& among, std::size_t most);
// The groups of people `ids` with the pattern of each: the old letter where a pattern stays, else the next
// free one, the largest group first. By letter.
[[nodiscard]] std::vector<Group> named_groups(const std::vector<Group>& kept,
                                              const std::vector<Layout>& layouts,
                                              const std::vector<std::size_t>& pattern_of,
                                              const std::vector<std::string>& ids);

// Weakest event, cheapest work, chances, extras, notes: everything of a person but the group.
void describe_person(Person& person);
// Names what of the common week a rule keeps the person from, until when, and what is done instead meanwhile,
// or the referral.
void note_substitutes(Person& person, const std::vector<Restriction>& restrictions, const Layout& layout,
                      const Knowledge& knowledge);
[[nodiscard]] std::vector<std::string> squad_cautions(const Squad& squad, const Knowledge& knowledge);
[[nodiscard]] SquadOutlook outlook_of(const std::vector<Person>& people);
[[nodiscard]] std::string why_of(const Group& group, const std::vector<Person>& people,
                                 const Knowledge& knowledge);

// What everybody would choose, but the lanes cannot hold; each with the cheapest remedy.
[[nodiscard]] std::vector<Shortfall> shortfalls_of(const ChoiceProblem& problem,
                                                   const std::vector<Layout>& layouts,
                                                   const std::vector<LaneOfWeek>& lanes, const Squad& squad,
                                                   const Knowledge& knowledge);

// How many lifts go down because the plates do not reach, and the plates that are missing most often.
[[nodiscard]] std::optional<Shortfall> plates_shortfall(const std::vector<Morning>& mornings,
                                                        const Equipment& equipment);

// Who had which week before, and what each week counts for each.
struct Staying {
  std::vector<std::optional<std::size_t>> kept;  // by person: the old week's pattern, where it is compared
  std::vector<double> worth;                     // person by person, pattern by pattern
  std::size_t patterns = 0;
  double worth_moving = 0.0;
  std::set<std::size_t> held;  // people whose moves for less are held back

  // Of this pattern over the person's old week, which must be one of those compared.
  [[nodiscard]] double gain(std::size_t person, std::size_t pattern) const {
    return worth[person * patterns + pattern] - worth[person * patterns + *kept[person]];
  }
};
// Of people `ids`; `worth` is still to be filled in.
[[nodiscard]] Staying staying(const std::vector<Group>& kept, const std::vector<Layout>& layouts,
                              const std::vector<std::string>& ids, double worth_moving);
// Adds to each old week what a move must bring at least.
void prefer_the_kept(const Staying& staying, ChoiceProblem& problem);
// Nobody leaves a week that goes on for less, whatever others gain by it. True: somebody did and is held back
// now, and patterns must be chosen again. Who has been held back moves only where the lanes leave no choice.
[[nodiscard]] bool hold_back(Staying& staying, const Choice& choice, ChoiceProblem& problem);
// What turns the value of a choice, and its bound, into what the weeks themselves are worth: off goes what
// old weeks count for staying, and back comes what holding back took off.
[[nodiscard]] double without_staying(const Staying& staying, const Choice& choice);
// `now_in`: the group of each.
[[nodiscard]] std::vector<Move> moves_of(const Staying& staying, const Choice& choice,
                                         const std::vector<Group>& before, const std::vector<Layout>& layouts,
                                         const std::vector<std::string>& ids,
                                         const std::vector<std::string>& now_in);

}  // namespace backplan

// One member of a squad: fitted once, then planned by any group's week.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "backplan/programme.hpp"
#include "core/common_week.hpp"
#include "core/season.hpp"

namespace backplan {

// Dose tables that people of equal doses share.
class SharedTables {
 public:
  [[nodiscard]] std::shared_ptr<const DoseTables> of(const std::vector<EventState>& states);

 private:
  std::vector<std::pair<std::vector<double>, std::shared_ptr<const DoseTables>>> known_;
};

// Kinds of the common week that a rule of a person's own takes away over a stretch of days.
struct Restriction {
  std::vector<std::string> work;
  Date from, to;  // both included
  bool to_test = false;
  friend bool operator==(const Restriction&, const Restriction&) = default;
};

class MemberPlanner {
 public:
  // The history must outlive it.
  MemberPlanner(const Candidate& candidate, const Knowledge& knowledge, Date as_of, const History& history,
                SharedTables& tables);

  [[nodiscard]] const Candidate& candidate() const { return candidate_; }
  [[nodiscard]] const std::vector<EventState>& states() const { return states_; }
  [[nodiscard]] const std::string& refused() const { return refused_; }
  [[nodiscard]] const Prices& prices() const { return prices_; }
  [[nodiscard]] int hard_limit() const;
  [[nodiscard]] int intervals_limit() const;
  // Whether any shared lane, a bar or a sled, is ever used.
  [[nodiscard]] bool needs_lanes() const;

  // What the goal counts of this person's season by that week; ties go to the higher points.
  [[nodiscard]] double value(const Layout& layout, const CommonWeek& week, SquadGoal goal);
  [[nodiscard]] double value_without_training(SquadGoal goal);
  // Home blocks, at most so many a week, that help somebody who is not safe; empty counts for others.
  [[nodiscard]] Pack extras(const Layout& layout, const CommonWeek& week, int most, SquadGoal goal,
                            double confidence);
  // The written plan. `extras`: home blocks beside the common mornings.
  [[nodiscard]] Plan plan(const Layout& layout, const CommonWeek& week, const Pack& extras);
  // What a profile, pain or the roster keeps this person from, where an open morning of the layout has it.
  [[nodiscard]] std::vector<Restriction> restrictions(const Layout& layout) const;

 private:
  [[nodiscard]] Season season(const Layout& layout, const CommonWeek& week, const Pack& extras);
  [[nodiscard]] double goal_value(const Dosage& dosage, SquadGoal goal) const;
  [[nodiscard]] std::uint32_t kinds_to_avoid() const;
  void add_restrictions(const std::string& work, const Layout& layout, std::vector<Restriction>& out) const;
  void start();

  Candidate candidate_;
  Knowledge knowledge_;
  Date as_of_;
  const History& history_;
  std::string refused_;
  std::vector<EventState> states_;
  SoFar so_far_;
  Prices prices_;
  std::shared_ptr<const DoseTables> tables_;
  std::unique_ptr<SeasonPlanner> planner_;
  std::unique_ptr<DayFigures> figures_;
};

}  // namespace backplan

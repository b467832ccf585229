// What the independent checker looks at: the plan laid on a calendar that the checker makes for
// itself from the candidate, day by day and week by week. The rules (check_*.cpp) read only this.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/check.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/rules.hpp"

namespace backplan::checking {

inline constexpr double kSlack = 1e-9;  // shares are decimal fractions, minutes whole

struct BlockFacts {
  const Block* block = nullptr;
  const WorkKind* kind = nullptr;  // never null: unknown work is reported and left out
  bool home = false;
  bool hard = false;  // a hard kind or a timed rehearsal
};

struct DayFacts {
  Date date;
  int week = 0;  // counted back from the test, 1 = the last
  bool blocked = false;
  int slot_minutes = 0;      // by the candidate's week and days, 0 when blocked
  bool after_night = false;  // within the easy day after a night shift
  bool diagnostic = false;
  bool fixed = false;  // fixed work takes place
  int fixed_minutes = 0;
  bool fixed_hard = false;
  bool long_march = false;
  Metres fixed_run{0.0};                   // longest continuous run in the fixed work
  std::vector<const PlannedDay*> entries;  // one in a sound plan
  std::vector<BlockFacts> blocks;

  [[nodiscard]] bool planned_hard() const;
  [[nodiscard]] bool hard() const { return planned_hard() || fixed_hard || diagnostic; }
  [[nodiscard]] bool planned() const { return !blocks.empty(); }
  [[nodiscard]] bool has_family(const std::string& family) const;
  [[nodiscard]] bool has_lift() const;  // a deadlift day
  [[nodiscard]] bool has_running() const;
  [[nodiscard]] int session_minutes() const;  // as the plan says
  [[nodiscard]] int minutes() const;          // session and home blocks
};

struct WeekFacts {
  int index = 0;
  std::vector<const DayFacts*> days;     // those of the calendar, so never before as_of
  const PlannedWeek* planned = nullptr;  // null: the plan lacks it
  Phase phase = Phase::build;
  int blocked_days = 0;
  int slot_minutes = 0;
  int session_minutes = 0;
  int minutes = 0;  // home blocks included
  int planned_hard_blocks = 0;
  int fixed_hard_days = 0;

  [[nodiscard]] Date starts() const { return days.front()->date; }
  [[nodiscard]] int open_days() const { return static_cast<int>(days.size()) - blocked_days; }
  [[nodiscard]] bool whole() const { return days.size() == 7; }
  // With fewer than four open days a week counts as blocked where weeks are compared.
  [[nodiscard]] bool counts() const { return open_days() >= 4; }
  // A full build week, the measure of deload and taper.
  [[nodiscard]] bool full_build() const { return phase == Phase::build && whole() && blocked_days == 0; }
  [[nodiscard]] int hard_sessions() const { return planned_hard_blocks + fixed_hard_days; }
};

// Both days inclusive.
struct Span {
  Date from;
  Date to;
  [[nodiscard]] int days() const { return static_cast<int>((to - from).count()) + 1; }
};

struct Case {
  const Plan& plan;
  const Candidate& candidate;
  const Model& model;
  const Rules& rules;
  Background background;  // whose limits hold: after a birth those of `new`
  int taper_days = 0;
  Date taper_from;               // its first day, which may lie before the plan
  std::vector<DayFacts> days;    // as_of to the day before the test
  std::vector<WeekFacts> weeks;  // in order of date; point into `days`

  [[nodiscard]] const DayFacts* day(Date date) const;  // null outside the plan
  [[nodiscard]] int week_index(Date date) const;
};

class Findings {
 public:
  void add(std::string rule, Date where, std::string what);
  [[nodiscard]] std::vector<Violation> sorted() &&;

 private:
  std::vector<Violation> all_;
};

[[nodiscard]] Case lay_out(const Plan& plan, const Candidate& candidate, const Model& model,
                           const Rules& rules);
// Unbroken runs of days blocked by these kinds; spells that touch or overlap are one.
[[nodiscard]] std::vector<Span> blocked_runs(const Candidate& candidate,
                                             const std::vector<BlockedKind>& kinds);
// Median of the minutes of the last three full build weeks that end before this day (fewer where
// fewer exist); none without any.
[[nodiscard]] std::optional<double> usual_minutes(const Case& c, Date before);
// Somebody who is referred and gets no plan at all.
[[nodiscard]] bool is_refused(const Case& c);
[[nodiscard]] std::string iso(Date date);

// Unbroken runs of days on which none of this work could be done; see check_return.cpp.
[[nodiscard]] std::vector<Span> spells_without(const Case& c, const std::vector<const WorkKind*>& work);
[[nodiscard]] std::vector<const WorkKind*> all_work(const Case& c);

// The rules, by concept.
void check_form(const Case& c, Findings& findings);
void check_slots(const Case& c, Findings& findings);
void check_work_allowed(const Case& c, Findings& findings);
void check_days(const Case& c, Findings& findings);
void check_weeks(const Case& c, Findings& findings);
void check_ramp(const Case& c, Findings& findings);
void check_return(const Case& c, Findings& findings);
void check_deload(const Case& c, Findings& findings);
void check_taper(const Case& c, Findings& findings);
void check_medical(const Case& c, Findings& findings);

}  // namespace backplan::checking

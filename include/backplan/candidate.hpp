// The person who trains for a test, as parsed and checked from candidate.json. A Candidate that
// exists is valid: io/candidate_reader has refused everything else.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "backplan/points.hpp"
#include "backplan/units.hpp"

namespace backplan {

enum class Background { new_to_training, regular, long_trained };
enum class Aim { target, highest };
enum class BlockedKind { rest, light, field };
enum class MedicalStatus { none, profile, pregnant, postpartum };
// Setting of a result: the test of record, a whole graded practice test, one event fresh,
// self-counted, or a guess.
enum class Setting { record, practice, single, self, estimate };

[[nodiscard]] std::string to_string(Background background);  // "new", "regular", "long"
[[nodiscard]] std::string to_string(BlockedKind kind);
[[nodiscard]] std::string to_string(Setting setting);

struct DatedResult {
  Date date;
  std::string event;
  double value = 0.0;    // in the event's unit
  std::string as_typed;  // "170 lb"
  Setting setting = Setting::practice;
  bool first = false;  // a first-ever attempt
};

struct Target {
  std::optional<Points> total;
  std::optional<Points> each;
  std::map<std::string, Points> events;
  double confidence = 0.8;
  double pass_confidence = 0.95;
  // The most that is asked of this event, by `each` or for itself; none: nothing.
  [[nodiscard]] std::optional<Points> asked_of(const std::string& event) const {
    const auto own = events.find(event);
    if (own == events.end()) return each;
    return each && *each > own->second ? *each : own->second;
  }
  friend bool operator==(const Target&, const Target&) = default;
};

// Days without any training, both inclusive.
struct DaysOff {
  Date from;
  Date to;
};

struct TrainingNow {
  std::optional<int> hard_sessions;   // a week
  std::optional<int> minutes;         // a week; before `off`, where that is lately
  std::optional<Metres> longest_run;  // in the last 30 days
  std::optional<Date> since;          // the first day of a journal: a ramp from untrained began there
  std::optional<DaysOff> off;         // the latest two weeks or more that a journal leaves empty
};

struct DayOverride {
  Date date;
  std::optional<int> minutes;
  bool after_night_shift = false;
};

// Work that the calendar fixes (a march, a unit run). `work` is a fixed work of the model.
struct FixedWork {
  int weekday = 0;  // Monday = 0
  std::string work;
  int minutes = 0;
  std::optional<Metres> distance;
};

// Both days inclusive.
struct BlockedSpell {
  Date from;
  Date to;
  BlockedKind kind = BlockedKind::rest;
  std::string why;
};

// Both days inclusive; no `from`: from the start; no `until`: to the test.
struct Avoid {
  std::string work;
  std::optional<Date> from;
  std::optional<Date> until;
  std::string why;
};

struct Equipment {
  bool hex_bar = true;
  double bar_lb = 60.0;
  std::vector<double> plates_lb;  // single plates, as listed; pairs are made of equal ones
  bool sled = true;
  bool kettlebells = true;
  bool pull_up_bar = true;
  bool track = true;
  bool throw_ball = false;
  // In a squad: how long others may be on a shared sled before the own turn, by a single leg and by a whole
  // course. Not in any file.
  double leg_wait_s = 0.0, course_wait_s = 0.0;
};

struct Medical {
  MedicalStatus status = MedicalStatus::none;
  std::set<std::string> permitted;  // work kinds, for a profile
  std::optional<Date> since;
  std::optional<Date> until;
  std::optional<Date> cleared_on;
};

struct Candidate {
  std::string id;
  Date birth_date;
  std::string column;
  std::string standard;
  std::string category;
  Date test_date;
  std::vector<Date> diagnostics;
  Target target;
  Aim aim = Aim::target;
  Background background = Background::regular;
  TrainingNow now;
  std::vector<DatedResult> results;  // by date, then event
  std::array<int, 7> week{};         // minutes, Monday first
  int home_blocks = 0;               // short blocks at home, a week
  std::vector<DayOverride> days;
  std::vector<FixedWork> fixed;
  std::vector<BlockedSpell> blocked;
  Equipment equipment;
  std::vector<Avoid> avoid;
  Medical medical;
  // Keys that were left out and got a default, in the words of the `assumptions` list.
  std::vector<std::string> defaulted;

  // By whose rules training goes: after pregnancy everybody starts as new to training. What the body may
  // still gain follows `background`.
  [[nodiscard]] Background trains_as() const {
    return medical.status == MedicalStatus::postpartum ? Background::new_to_training : background;
  }
};

}  // namespace backplan

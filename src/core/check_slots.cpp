// One day's slot: what fits into its minutes, how many blocks of what kind and in which order, and
// what may be done there at all.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "core/check_case.hpp"

namespace backplan::checking {
namespace {

void check_counts(const Case& c, const DayFacts& day, Findings& findings) {
  int in_slot = 0;
  int hard = 0;
  std::set<std::string> kinds;
  for (const BlockFacts& block : day.blocks) {
    in_slot += block.home ? 0 : 1;
    hard += block.hard ? 1 : 0;
    if (!kinds.insert(block.kind->id).second) {
      findings.add("slot-repeat", day.date, fmt::format("two blocks of {} on one day", block.kind->id));
    }
  }
  if (in_slot > c.rules.blocks_a_slot) {
    findings.add("slot-blocks", day.date,
                 fmt::format("{} blocks in the slot; at most {}", in_slot, c.rules.blocks_a_slot));
  }
  if (hard > c.rules.hard_blocks_a_slot) {
    findings.add("slot-hard", day.date,
                 fmt::format("{} hard blocks in the slot; at most {}", hard, c.rules.hard_blocks_a_slot));
  }
}

void check_minutes(const Case& c, const DayFacts& day, Findings& findings) {
  int in_slot = 0;
  int block_minutes = 0;
  for (const BlockFacts& block : day.blocks) {
    if (block.home) continue;
    ++in_slot;
    block_minutes += block.block->minutes;
  }
  const int session = in_slot == 0 ? 0 : session_minutes(c.rules, block_minutes, in_slot);
  if (session > day.slot_minutes) {
    findings.add("slot-minutes", day.date,
                 fmt::format("the session takes {} minutes; the day offers {}", session, day.slot_minutes));
  }
  for (const PlannedDay* entry : day.entries) {
    if (entry->slot_minutes == day.slot_minutes && entry->session_minutes == session) continue;
    findings.add("slot-figures", day.date,
                 fmt::format("the plan says {} of {} minutes; it is {} of {}", entry->session_minutes,
                             entry->slot_minutes, session, day.slot_minutes));
  }
}

// Strength before runs, home blocks last.
void check_order(const DayFacts& day, Findings& findings) {
  bool ran = false;
  bool at_home = false;
  for (const BlockFacts& block : day.blocks) {
    if (ran && block.kind->family == "lift")
      findings.add("block-order", day.date, "the lift comes after a run");
    if (at_home && !block.home) {
      findings.add("block-order", day.date, "a block of the slot comes after a home block");
    }
    ran = ran || block.kind->running;
    at_home = at_home || block.home;
  }
}

void check_shape(const DayFacts& day, const BlockFacts& block, Findings& findings) {
  const BlockShape* shape = block.kind->shape(block.block->size);
  if (shape == nullptr) {
    findings.add("home-blocks", day.date, fmt::format("{} has no home block", block.kind->id));
  } else if (shape->minutes != block.block->minutes) {
    findings.add(
        "block-shape", day.date,
        fmt::format("a {} block of {} takes {} minutes; the plan says {}", to_string(block.block->size),
                    block.kind->id, shape->minutes, block.block->minutes));
  }
}

void check_home(const Case& c, const WeekFacts& week, Findings& findings) {
  int blocks = 0;
  for (const DayFacts* day : week.days) {
    for (const BlockFacts& block : day->blocks) {
      if (!block.home) continue;
      ++blocks;
      const auto& allowed = c.rules.home_work;
      if (block.kind->home && std::find(allowed.begin(), allowed.end(), block.kind->id) == allowed.end()) {
        findings.add("home-blocks", day->date, fmt::format("{} is no work for home", block.kind->id));
      }
    }
  }
  if (blocks > c.candidate.home_blocks) {
    findings.add(
        "home-blocks", week.starts(),
        fmt::format("{} home blocks in week {}; at most {}", blocks, week.index, c.candidate.home_blocks));
  }
}

bool has_equipment(const Equipment& equipment, const std::string& key) {
  if (key == "hex_bar") return equipment.hex_bar;
  if (key == "sled") return equipment.sled;
  if (key == "kettlebells") return equipment.kettlebells;
  if (key == "pull_up_bar") return equipment.pull_up_bar;
  if (key == "track") return equipment.track;
  if (key == "throw_ball") return equipment.throw_ball;
  return false;
}

bool is_avoided(const Avoid& avoid, const BlockFacts& block, Date date) {
  return avoid.work == block.kind->id && (!avoid.from || *avoid.from <= date) &&
         (!avoid.until || date <= *avoid.until);
}

void check_allowed(const Case& c, const DayFacts& day, const BlockFacts& block, Findings& findings) {
  for (const Avoid& avoid : c.candidate.avoid) {
    if (!is_avoided(avoid, block, day.date)) continue;
    findings.add("avoid", day.date, fmt::format("{} is to be avoided ({})", block.kind->id, avoid.why));
  }
  if (block.home) return;  // home blocks need no kit
  for (const std::string& key : block.kind->needs) {
    if (has_equipment(c.candidate.equipment, key)) continue;
    findings.add("equipment", day.date, fmt::format("{} needs {}, which is not there", block.kind->id, key));
  }
}

void check_known(const Case& c, Findings& findings) {
  for (const PlannedWeek& week : c.plan.weeks) {
    for (const PlannedDay& day : week.days) {
      for (const Block& block : day.blocks) {
        if (c.model.find_work(block.work) != nullptr) continue;
        findings.add("unknown-work", day.date, fmt::format("no work kind is called \"{}\"", block.work));
      }
    }
  }
}

}  // namespace

void check_slots(const Case& c, Findings& findings) {
  for (const DayFacts& day : c.days) {
    check_counts(c, day, findings);
    check_minutes(c, day, findings);
    check_order(day, findings);
    for (const BlockFacts& block : day.blocks) check_shape(day, block, findings);
  }
  for (const WeekFacts& week : c.weeks) check_home(c, week, findings);
}

void check_work_allowed(const Case& c, Findings& findings) {
  check_known(c, findings);
  for (const DayFacts& day : c.days) {
    for (const BlockFacts& block : day.blocks) check_allowed(c, day, block, findings);
  }
}

}  // namespace backplan::checking

#include <fmt/format.h>

#include <algorithm>

#include "core/plan_start.hpp"
#include "core/plan_writer.hpp"
#include "core/progress_prior.hpp"

namespace backplan {
namespace {

constexpr int kMostWeeksLater = 52;
constexpr int kMostMinutesADay = 120;
constexpr double kChanceWorthNaming = 0.005;  // of p_target
constexpr double kPointsWorthNaming = 0.5;
constexpr double kReachMargin = 0.05;  // of the chances, at what no plan could exceed
const AllocationEffort kQuick{.prove = false, .rounds = 3, .nodes = 0, .counting_nodes = 0, .gap = 0.05};

// What a changed candidate is planned from.
struct Start {
  const Knowledge& knowledge;
  Date as_of;
  const std::vector<EventState>* fitted;
};

SeasonPlanner planner_for(const Candidate& candidate, const Start& start) {
  const auto& [knowledge, as_of, fitted] = start;
  return {candidate, knowledge, as_of,
          fitted != nullptr ? restated(*fitted, candidate, knowledge.standard, as_of)
                            : fit_progress(candidate, knowledge.standard, knowledge.model, as_of)};
}

Outlook quick_outlook(SeasonPlanner& planner) {
  return planner.outlook(planner.fill(planner.available_minutes(), kQuick).dosage);
}

// Chances rise with the work, as the search for the minutes takes for granted too; the margin is for
// spreads that widen with it.
bool within_reach(const Outlook& most, const Target& target) {
  return most.p_target >= target.confidence - kReachMargin &&
         most.p_pass >= target.pass_confidence - kReachMargin;
}

// Whether a plan of all the minutes holds the target. Most answers are no, and most of these are plain from
// what no plan could exceed.
bool holds_with_all_minutes(const Candidate& candidate, const Start& start) {
  SeasonPlanner planner = planner_for(candidate, start);
  return within_reach(planner.outlook(planner.utmost()), candidate.target) &&
         holds(quick_outlook(planner), candidate.target);
}

double expected_points(const Outlook& outlook) {
  double sum = 0.0;
  for (const EventOutlook& event : outlook.events) sum += event.expected_points;
  return sum;
}

bool scored_at(const Candidate& candidate, const Standard& standard) {
  return standard.band_of(age_on(candidate.birth_date, candidate.test_date)).has_value();
}

std::optional<Date> earliest_date(const Candidate& candidate, const Start& start) {
  // Every week near, every second week further out; each date is tried, since age bands change.
  for (int weeks = 1; weeks <= kMostWeeksLater; weeks += weeks < 16 ? 1 : 2) {
    Candidate later = candidate;
    later.test_date += Days(7 * weeks);
    if (!scored_at(later, start.knowledge.standard)) return std::nullopt;
    if (holds_with_all_minutes(later, start)) return later.test_date;
  }
  return std::nullopt;
}

Candidate with_minutes(const Candidate& candidate, int more) {
  Candidate out = candidate;
  for (int& minutes : out.week) {
    if (minutes > 0) minutes = std::max(minutes, std::min(kMostMinutesADay, minutes + more));
  }
  return out;
}

std::optional<int> minutes_needed(const Candidate& candidate, const Start& start) {
  for (int more = kMinutesStep; more <= 4 * kMinutesStep; more += kMinutesStep) {
    const Candidate longer = with_minutes(candidate, more);
    if (longer.week == candidate.week) return std::nullopt;
    if (!holds_with_all_minutes(longer, start)) continue;
    int sum = 10 * candidate.home_blocks;
    for (const int minutes : longer.week) sum += minutes;
    return sum;
  }
  return std::nullopt;
}

struct Change {
  std::string words;
  Candidate candidate;
};

// Kit that is not there.
void add_kit(const Candidate& candidate, std::vector<Change>& out) {
  if (!candidate.equipment.hex_bar) {
    Candidate more = candidate;
    more.equipment.hex_bar = true;
    if (more.equipment.plates_lb.empty()) more.equipment.plates_lb = {45, 45, 45, 45, 25, 25, 10, 10, 5, 5};
    out.push_back({"a hex bar to lift with", more});
  }
  if (!candidate.equipment.sled || !candidate.equipment.kettlebells) {
    Candidate more = candidate;
    more.equipment.sled = true;
    more.equipment.kettlebells = true;
    out.push_back({"a sled and two kettlebells", more});
  }
}

// Days that are not there: blocked ones, and two weeks after the test.
void add_days(const Candidate& candidate, std::vector<Change>& out) {
  for (const BlockedSpell& spell : candidate.blocked) {
    Candidate more = candidate;
    more.blocked.erase(std::remove_if(more.blocked.begin(), more.blocked.end(),
                                      [&](const BlockedSpell& s) { return s.from == spell.from; }),
                       more.blocked.end());
    out.push_back(
        {fmt::format("training through \"{}\"", spell.why.empty() ? "the blocked spell" : spell.why), more});
  }
  Candidate later = candidate;
  later.test_date += Days(14);
  out.push_back({"a test two weeks later", later});
}

std::vector<Change> changes_of(const Candidate& candidate) {
  static constexpr const char* kDays[] = {"Monday", "Tuesday",  "Wednesday", "Thursday",
                                          "Friday", "Saturday", "Sunday"};
  std::vector<Change> out;
  out.push_back({"15 more minutes on each training day", with_minutes(candidate, kMinutesStep)});
  for (std::size_t d = 0; d < 7; ++d) {
    if (candidate.week[d] > 0) continue;
    Candidate more = candidate;
    more.week[d] = 45;
    out.push_back({fmt::format("45 minutes on {}", kDays[d]), more});
    break;
  }
  if (candidate.home_blocks < 3) {
    Candidate more = candidate;
    more.home_blocks = 3;
    out.push_back({"three short blocks of push-ups or trunk work at home each week", more});
  }
  add_kit(candidate, out);
  add_days(candidate, out);
  return out;
}

}  // namespace

WaysOut find_ways_out(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                      const SeasonPlanner& planner, const Season& season,
                      const std::vector<EventState>* fitted) {
  const Start start{knowledge, as_of, fitted};
  WaysOut out;
  const double total = total_within_reach(planner.states(), candidate, knowledge.standard, knowledge.model,
                                          season.dosage, candidate.target.confidence);
  if (total > 0.0) out.total_within_reach = total;
  out.earliest_date = earliest_date(candidate, start);
  out.minutes_per_week = minutes_needed(candidate, start);
  const Outlook before = planner.outlook(season.dosage);
  double best_p = before.p_target;
  double best_points = expected_points(before);
  out.best_change_p_target = before.p_target;
  for (const Change& change : changes_of(candidate)) {
    if (!scored_at(change.candidate, knowledge.standard)) continue;
    SeasonPlanner changed = planner_for(change.candidate, start);
    const Outlook after = quick_outlook(changed);
    const double points = expected_points(after);
    // Where no change makes the target likely, the one that brings most points helps most.
    const bool likelier = after.p_target > best_p + kChanceWorthNaming;
    const bool as_likely = after.p_target > best_p - kChanceWorthNaming;
    if (!likelier && !(as_likely && points > best_points + kPointsWorthNaming)) continue;
    best_p = after.p_target;
    best_points = points;
    out.best_change_p_target = after.p_target;
    out.best_change = change.words;
    if (knowledge.standard.pass_or_fail) continue;
    out.best_change +=
        fmt::format(" (about {:.0f} points instead of {:.0f})", after.total.mean, before.total.mean);
  }
  return out;
}

}  // namespace backplan

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "backplan/suited.hpp"
#include "core/coming_back.hpp"
#include "core/plan_start.hpp"
#include "core/plan_writer.hpp"
#include "core/progress_prior.hpp"

namespace backplan {
namespace {

// What a candidate could still change, and how far the search for it goes: judgements of what is worth asking
// for.
constexpr int kMostWeeksLater = 52;
constexpr int kEveryWeekUntil = 16;  // every second week from there on
constexpr int kMostStepsLonger = 4;  // of kMinutesStep, on each training day
constexpr int kMostMinutesADay = 120;
constexpr int kMinutesOfANewDay = 45;
constexpr int kHomeBlocksThatCouldBe = 3;
constexpr int kWeeksLater = 2;
constexpr std::array kUsualPlatesLb{45.0, 45.0, 45.0, 45.0, 25.0, 25.0, 10.0, 10.0, 5.0, 5.0};
constexpr std::array kDays{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"};
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
bool holds_with_all_minutes(SeasonPlanner& planner, const Target& target) {
  return within_reach(planner.outlook(planner.utmost()), target) && holds(quick_outlook(planner), target);
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
  for (int weeks = 1; weeks <= kMostWeeksLater; weeks += weeks < kEveryWeekUntil ? 1 : 2) {
    Candidate later = candidate;
    later.test_date += Days(kDaysAWeek * weeks);
    if (!scored_at(later, start.knowledge.standard)) return std::nullopt;
    SeasonPlanner planner = planner_for(later, start);
    if (holds_with_all_minutes(planner, candidate.target)) return later.test_date;
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
  for (int steps = 1; steps <= kMostStepsLonger; ++steps) {
    const Candidate longer = with_minutes(candidate, steps * kMinutesStep);
    if (longer.week == candidate.week) return std::nullopt;
    SeasonPlanner planner = planner_for(longer, start);
    if (holds_with_all_minutes(planner, candidate.target)) return planner.available_minutes();
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
    if (more.equipment.plates_lb.empty())
      more.equipment.plates_lb.assign(kUsualPlatesLb.begin(), kUsualPlatesLb.end());
    out.push_back({"a hex bar to lift with", more});
  }
  if (!candidate.equipment.sled || !candidate.equipment.kettlebells) {
    Candidate more = candidate;
    more.equipment.sled = true;
    more.equipment.kettlebells = true;
    out.push_back({"a sled and two kettlebells", more});
  }
}

// Days that are not there: blocked ones, and those after the test.
void add_days(const Candidate& candidate, const Knowledge& knowledge, std::vector<Change>& out) {
  for (const BlockedSpell& spell : candidate.blocked) {
    if (none_permitted(candidate, placeable(knowledge), spell.from)) continue;  // no advice to train through
    Candidate more = candidate;
    more.blocked.erase(std::remove_if(more.blocked.begin(), more.blocked.end(),
                                      [&](const BlockedSpell& s) { return s.from == spell.from; }),
                       more.blocked.end());
    out.push_back(
        {fmt::format("training through \"{}\"", spell.why.empty() ? "the blocked spell" : spell.why), more});
  }
  Candidate later = candidate;
  later.test_date += Days(kDaysAWeek * kWeeksLater);
  out.push_back({fmt::format("a test {} weeks later", kWeeksLater), later});
}

// More work that needs no kit, where the test has any.
void add_home_blocks(const Candidate& candidate, const Knowledge& knowledge, std::vector<Change>& out) {
  std::vector<std::string> names;
  for (const std::string& id : knowledge.rules.home_work) {
    const WorkKind* kind = knowledge.model.find_work(id);
    if (kind != nullptr && kind->home && is_work_for(*kind, knowledge.standard)) names.push_back(kind->name);
  }
  if (names.empty() || candidate.home_blocks >= kHomeBlocksThatCouldBe) return;
  Candidate more = candidate;
  more.home_blocks = kHomeBlocksThatCouldBe;
  out.push_back({fmt::format("{} short blocks of {} at home each week", kHomeBlocksThatCouldBe,
                             fmt::join(names, " or ")),
                 more});
}

std::vector<Change> changes_of(const Candidate& candidate, const Knowledge& knowledge) {
  std::vector<Change> out;
  out.push_back({fmt::format("{} more minutes on each training day", kMinutesStep),
                 with_minutes(candidate, kMinutesStep)});
  for (std::size_t d = 0; d < candidate.week.size(); ++d) {
    if (candidate.week[d] > 0) continue;
    Candidate more = candidate;
    more.week[d] = kMinutesOfANewDay;
    out.push_back({fmt::format("{} minutes on {}", kMinutesOfANewDay, kDays[d]), more});
    break;
  }
  add_home_blocks(candidate, knowledge, out);
  add_kit(candidate, out);
  add_days(candidate, knowledge, out);
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
  for (const Change& change : changes_of(candidate, knowledge)) {
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
    const bool comparable = total_is_of_nearly_all_days(before) && total_is_of_nearly_all_days(after);
    if (knowledge.standard.pass_or_fail || !comparable) continue;
    out.best_change +=
        fmt::format(" (about {:.0f} points instead of {:.0f})", after.total.mean, before.total.mean);
  }
  return out;
}

}  // namespace backplan

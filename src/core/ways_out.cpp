#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

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
constexpr int kMinutesOfANewDay = 45;
constexpr int kHomeBlocksThatCouldBe = 3;
constexpr int kWeeksLater = 2;
constexpr std::array kUsualPlatesLb{45.0, 45.0, 45.0, 45.0, 25.0, 25.0, 10.0, 10.0, 5.0, 5.0};
constexpr std::array kDays{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"};
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

void scan_dates(const Candidate& candidate, const Start& start, WaysOut& out) {
  // Every week near, every second week further out; each date is tried, since age bands change.
  for (int weeks = 1; weeks <= kMostWeeksLater; weeks += weeks < kEveryWeekUntil ? 1 : 2) {
    Candidate later = candidate;
    later.test_date += Days(kDaysAWeek * weeks);
    if (!scored_at(later, start.knowledge.standard)) return;
    SeasonPlanner planner = planner_for(later, start);
    out.last_date_tried = later.test_date;
    if (!holds_with_all_minutes(planner, candidate.target)) continue;
    out.earliest_date = later.test_date;
    return;
  }
}

Candidate with_minutes(const Candidate& candidate, int more) {
  Candidate out = candidate;
  for (int& minutes : out.week) {
    if (minutes > 0) minutes = std::max(minutes, std::min(kMostMinutesADay, minutes + more));
  }
  return out;
}

void scan_minutes(const Candidate& candidate, const Start& start, WaysOut& out) {
  for (int steps = 1; steps <= kMostStepsLonger; ++steps) {
    const Candidate longer = with_minutes(candidate, steps * kMinutesStep);
    if (longer.week == candidate.week) return;
    SeasonPlanner planner = planner_for(longer, start);
    out.most_minutes_tried = planner.available_minutes();
    if (!holds_with_all_minutes(planner, candidate.target)) continue;
    out.minutes_per_week = planner.available_minutes();
    return;
  }
}

struct Change {
  std::string words;
  std::string kind;  // in a list of what was tried
  Candidate candidate;
};

// Kit that is not there.
void add_kit(const Candidate& candidate, std::vector<Change>& out) {
  if (!candidate.equipment.hex_bar) {
    Candidate more = candidate;
    more.equipment.hex_bar = true;
    if (more.equipment.plates_lb.empty())
      more.equipment.plates_lb.assign(kUsualPlatesLb.begin(), kUsualPlatesLb.end());
    out.push_back({"a hex bar to lift with", "a hex bar", more});
  }
  if (!candidate.equipment.sled || !candidate.equipment.kettlebells) {
    Candidate more = candidate;
    more.equipment.sled = true;
    more.equipment.kettlebells = true;
    out.push_back({"a sled and two kettlebells", "a sled and kettlebells", more});
  }
}

// Which of several spells is meant must be plain; what was written of it alone may not say it.
std::string moved_away(const BlockedSpell& spell) {
  const std::string why = spell.why.empty() ? "" : fmt::format(", \"{}\",", spell.why);
  if (spell.from == spell.to)
    return fmt::format("the rest day on {}{} moved to after the test", say_day(spell.from), why);
  return fmt::format("the rest spell from {} to {}{} moved to after the test", say_day(spell.from),
                     say_day(spell.to), why);
}

// Days that are not there: those of rest, if it can be moved, and those after the test. A field exercise is
// not in a candidate's hand, light duty has a reason that no plan may argue with, and where nothing is
// permitted there is nothing to move.
void add_days(const Candidate& candidate, const Knowledge& knowledge, Date as_of, std::vector<Change>& out) {
  for (const BlockedSpell& spell : candidate.blocked) {
    if (spell.kind != BlockedKind::rest || spell.to < as_of || spell.from >= candidate.test_date) continue;
    if (none_permitted(candidate, placeable(knowledge), spell.from)) continue;
    Candidate more = candidate;
    more.blocked.erase(
        std::remove_if(more.blocked.begin(), more.blocked.end(),
                       [&](const BlockedSpell& s) { return s.from == spell.from && s.kind == spell.kind; }),
        more.blocked.end());
    out.push_back({moved_away(spell), "rest at another time", more});
  }
  Candidate later = candidate;
  later.test_date += Days(kDaysAWeek * kWeeksLater);
  out.push_back({fmt::format("a test {} weeks later", kWeeksLater),
                 fmt::format("a test {} weeks later", kWeeksLater), later});
}

// More work that needs no kit, of what this person may do.
void add_home_blocks(const Candidate& candidate, const Calendar& calendar, std::vector<Change>& out) {
  std::vector<std::string> names;
  for (const std::string& id : calendar.rules().home_work) {
    for (std::size_t k = 0; k < calendar.kinds().size(); ++k) {
      const WorkKind& kind = *calendar.kinds()[k];
      if (kind.id == id && kind.home && calendar.ever_allows(k)) names.push_back(kind.name);
    }
  }
  if (names.empty() || candidate.home_blocks >= kHomeBlocksThatCouldBe) return;
  Candidate more = candidate;
  more.home_blocks = kHomeBlocksThatCouldBe;
  out.push_back({fmt::format("{} short blocks of {} at home each week", kHomeBlocksThatCouldBe,
                             fmt::join(names, " or ")),
                 "short blocks at home", more});
}

std::vector<Change> changes_of(const Candidate& candidate, const Knowledge& knowledge,
                               const Calendar& calendar, Date as_of) {
  std::vector<Change> out;
  const Candidate longer = with_minutes(candidate, kMinutesStep);
  if (longer.week != candidate.week)
    out.push_back({fmt::format("{} more minutes on each training day", kMinutesStep), "longer days", longer});
  for (std::size_t d = 0; d < candidate.week.size(); ++d) {
    if (candidate.week[d] > 0) continue;
    Candidate more = candidate;
    more.week[d] = kMinutesOfANewDay;
    out.push_back({fmt::format("{} minutes on {}", kMinutesOfANewDay, kDays[d]), "one more day", more});
    break;
  }
  add_home_blocks(candidate, calendar, out);
  add_kit(candidate, out);
  add_days(candidate, knowledge, as_of, out);
  return out;
}

// A figure beside the chances, as it is printed: totals where they stand for nearly all test days, else how
// many events are passed, or at their minimum (on their scale, where there is none).
struct Figure {
  double value = 0.0;  // rounded as printed
  double before = 0.0;
  std::string words;
};

double events_at_minimum(const Outlook& outlook) {
  double sum = 0.0;
  for (const EventOutlook& event : outlook.events) sum += event.p_minimum;
  return sum;
}

Figure figure_of(const Outlook& after, const Outlook& before, const Standard& standard,
                 const Category& category) {
  const auto tenths = [](double x) { return std::floor(x * 10.0 + 0.5) / 10.0; };
  Figure out;
  if (!standard.pass_or_fail && total_is_of_nearly_all_days(before) && total_is_of_nearly_all_days(after)) {
    out.value = std::floor(after.total.mean + 0.5);
    out.before = std::floor(before.total.mean + 0.5);
    out.words = fmt::format("about {:.0f} points instead of {:.0f}", out.value, out.before);
    return out;
  }
  const bool pass = standard.pass_or_fail;
  out.value = tenths(pass ? after.total.mean : events_at_minimum(after));
  out.before = tenths(pass ? before.total.mean : events_at_minimum(before));
  out.words = fmt::format("about {:.1f} of {} events {} instead of {:.1f}", out.value, after.events.size(),
                          pass                     ? "passed"
                          : category.has_minimum() ? "at their minimum"
                                                   : "on their scale",
                          out.before);
  return out;
}

// A change is worth naming where what is printed of it is better.
bool reads_better(const Outlook& after, const Outlook& before, const Figure& figure) {
  const int step = chance_step(after.p_target);
  const int step_before = chance_step(before.p_target);
  return step > step_before || (step == step_before && figure.value > figure.before);
}

// The one change that helps most: that makes the target likeliest and, of equal ones, brings most points.
void find_best_change(const std::vector<Change>& changes, const Start& start, const Outlook& before,
                      WaysOut& out) {
  double best_points = 0.0;
  out.best_change_p_target = before.p_target;
  for (const Change& change : changes) {
    if (!scored_at(change.candidate, start.knowledge.standard)) continue;
    if (std::count(out.tried.begin(), out.tried.end(), change.kind) == 0) out.tried.push_back(change.kind);
    SeasonPlanner changed = planner_for(change.candidate, start);
    const Outlook after = quick_outlook(changed);
    const Standard& standard = start.knowledge.standard;
    const Figure figure =
        figure_of(after, before, standard, *standard.find_category(change.candidate.category));
    if (!reads_better(after, before, figure)) continue;
    const double points = expected_points(after);
    const int step = chance_step(after.p_target);
    const int best = chance_step(out.best_change_p_target);
    if (!out.best_change.empty() && (step < best || (step == best && points <= best_points))) continue;
    best_points = points;
    out.best_change_p_target = after.p_target;
    out.best_change = change.words;
    if (figure.value > figure.before) out.best_change += fmt::format(" ({})", figure.words);
  }
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
  scan_dates(candidate, start, out);
  scan_minutes(candidate, start, out);
  find_best_change(changes_of(candidate, knowledge, planner.calendar(), as_of), start,
                   planner.outlook(season.dosage), out);
  return out;
}

}  // namespace backplan

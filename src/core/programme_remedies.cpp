#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "backplan/morning.hpp"
#include "core/bar_loading.hpp"
#include "core/plate_pairs.hpp"
#include "core/programme_parts.hpp"

namespace backplan {
namespace {

constexpr int kTenMinutes = 10;
constexpr int kMostMoreLanes = 6;
constexpr std::array<const char*, 7> kWeekdays{"Monday", "Tuesday",  "Wednesday", "Thursday",
                                               "Friday", "Saturday", "Sunday"};

// People that the lanes of a morning hold, each pattern's users taking the share that its waves leave them.
double load_with(const std::vector<std::size_t>& users, const std::vector<Layout>& layouts,
                 const LaneOfWeek& lane, int minutes, const Knowledge& knowledge) {
  double load = 0.0;
  for (std::size_t p = 0; p < users.size(); ++p) {
    const int waves = waves_for(layouts[p].pattern, lane, minutes, knowledge);
    if (waves > 0) load += static_cast<double>(users[p]) / waves;
  }
  return load;
}

std::string remedy_for(const std::vector<std::size_t>& users, const std::vector<Layout>& layouts,
                       const LaneOfWeek& lane, int minutes, const Knowledge& knowledge) {
  const auto fits = [&](int more_lanes, int more_minutes) {
    return load_with(users, layouts, lane, minutes + more_minutes, knowledge) <=
           kPeopleALane * (lane.lanes + more_lanes) + 1e-9;
  };
  for (const int more : {kTenMinutes, 2 * kTenMinutes}) {
    if (fits(0, more)) return fmt::format("{} minutes more on that morning", more);
  }
  for (int more = 1; more <= kMostMoreLanes; ++more) {
    if (fits(more, 0))
      return more == 1 ? fmt::format("another {}", lane.word) : fmt::format("{} more {}s", more, lane.word);
  }
  return "a split day: half of them on another morning";
}

}  // namespace

std::vector<LaneOfWeek> lanes_of_week(const CommonWeek& week, const Squad& squad) {
  std::vector<LaneOfWeek> out;
  for (const WorkKind* kind : week.calendar().kinds()) {
    const std::string word = lane_word(*kind);
    if (word.empty()) continue;
    for (int weekday = 0; weekday < 7; ++weekday) {
      if (squad.mornings[static_cast<std::size_t>(weekday)] == 0) continue;
      out.push_back({weekday, kind->id, word, lanes_for(*kind, squad.equipment)});
    }
  }
  return out;
}

int waves_for(const Pattern& pattern, const LaneOfWeek& lane, int minutes, const Knowledge& knowledge) {
  LaneVisit visit;
  bool uses = false;
  for (const PatternBlock& one : pattern.days[static_cast<std::size_t>(lane.weekday)]) {
    const WorkKind& kind = *knowledge.model.find_work(one.work);
    Block block;
    block.work = one.work;
    block.size = one.size;
    block.minutes = one.size == BlockSize::full ? kind.full.minutes : kind.shorter.minutes;
    if (one.work == lane.work) {
      uses = true;
      visit.at = visit.blocks.size();
      visit.wave_minutes = block.minutes;
    }
    visit.blocks.push_back(block);
  }
  if (!uses) return 0;
  visit.minutes = minutes;
  return std::max(1, waves_in_a_row(waves_of(visit, knowledge.model, knowledge.rules)));
}

std::vector<Shortfall> shortfalls_of(const ChoiceProblem& problem, const std::vector<Layout>& layouts,
                                     const std::vector<LaneOfWeek>& lanes, const Squad& squad,
                                     const Knowledge& knowledge) {
  ChoiceProblem free = problem;
  for (double& capacity : free.capacity) capacity = 1e9;
  const Choice wish = choose_patterns(free);
  std::vector<Shortfall> out;
  if (!wish.possible) return out;
  for (std::size_t l = 0; l < lanes.size(); ++l) {
    std::vector<std::size_t> users(layouts.size(), 0);
    std::size_t all = 0;
    for (std::size_t i = 0; i < problem.people; ++i) {
      const bool uses = problem.use_of(i, wish.pattern_of[i], l) > 0.0;
      users[wish.pattern_of[i]] += uses ? 1 : 0;
      all += uses ? 1 : 0;
    }
    const int minutes = squad.mornings[static_cast<std::size_t>(lanes[l].weekday)];
    const double load = load_with(users, layouts, lanes[l], minutes, knowledge);
    const double room = kPeopleALane * lanes[l].lanes;
    if (load <= room + 1e-9) continue;
    const int fitting = static_cast<int>(std::floor(static_cast<double>(all) * room / load + 1e-9));
    out.push_back({lanes[l].weekday,
                   fmt::format("{}: {} people would best do {}, {} {}{} in {} minutes take about {}",
                               kWeekdays.at(static_cast<std::size_t>(lanes[l].weekday)), all,
                               knowledge.model.find_work(lanes[l].work)->name, lanes[l].lanes, lanes[l].word,
                               lanes[l].lanes == 1 ? "" : "s", minutes, fitting),
                   remedy_for(users, layouts, lanes[l], minutes, knowledge)});
  }
  return out;
}

namespace {

// What one lift lacks of the plates that its planned load is made of.
void count_missing(const Turn& turn, const Equipment& equipment, PlatePairs& missing) {
  const auto planned = plates_a_side(*turn.planned_load, equipment);
  const auto used = plates_a_side(*turn.load, equipment);
  if (!planned || !used) return;
  PlatePairs pairs = counted(*planned);
  for (const auto& [plate, count] : counted(*used)) pairs[plate] -= count;
  for (const auto& [plate, count] : pairs) missing[plate] += std::max(0, count);
}

}  // namespace

std::optional<Shortfall> plates_shortfall(const std::vector<Morning>& mornings, const Equipment& equipment) {
  int lifts = 0;
  int lowered = 0;
  double most = 0.0;
  std::array<int, 7> by_day{};
  PlatePairs missing;
  for (const Morning& morning : mornings) {
    for (const Station& station : morning.stations) {
      std::set<std::string> seen;
      for (const Turn& turn : station.turns) {
        if (!turn.load || !seen.insert(turn.id).second) continue;
        ++lifts;
        if (!turn.planned_load) continue;
        ++lowered;
        ++by_day.at(static_cast<std::size_t>(weekday_index(morning.date)));
        most = std::max(most, (*turn.planned_load - *turn.load).value());
        count_missing(turn, equipment, missing);
      }
    }
  }
  if (lowered == 0) return std::nullopt;
  const auto day = std::max_element(by_day.begin(), by_day.end()) - by_day.begin();
  const auto plate = std::max_element(missing.begin(), missing.end(),
                                      [](const auto& a, const auto& b) { return a.second < b.second; });
  return Shortfall{
      static_cast<int>(day),
      fmt::format("Plates: {} of {} {} to a lighter load, by at most {:g} lb", lowered, lifts,
                  lowered == 1 ? "lift goes down" : "lifts go down", most),
      plate == missing.end()
          ? std::string("more plates")
          : fmt::format("two more plates of {:g} lb, which are missing most often", plate->first)};
}

}  // namespace backplan

#include "core/morning_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "backplan/lanes.hpp"
#include "core/bar_loading.hpp"
#include "core/prescription_parts.hpp"

namespace backplan {
namespace {

constexpr double kMinute = 60.0;

constexpr double kGrid = 15.0;  // seconds to which turns are rounded

// The turns of one crew on its lane, in seconds from the start of the wave.
class LaneTurns {
 public:
  LaneTurns(const std::string& word, const std::vector<LaneUser>& crew, const SquadRules& rules)
      : bar_(word == "bar"), crew_(crew), rules_(rules) {}

  [[nodiscard]] double length(const LaneUser& user) const {
    if (bar_) return rules_.bar_turn_seconds;
    return user.block.rehearsal ? rules_.course_seconds : rules_.drag_seconds;
  }

  [[nodiscard]] int number(const LaneUser& user) const {
    return user.block.sets > 0 ? user.block.sets : rules_.usual_turns;
  }

  // When each person's turns begin.
  [[nodiscard]] std::vector<std::vector<double>> starts() const {
    std::vector<std::vector<double>> turns = in_turn();
    if (!bar_) spread(turns);
    return turns;
  }

 private:
  [[nodiscard]] double rest() const { return bar_ ? rules_.bar_rest_seconds : rules_.drag_rest_seconds; }

  [[nodiscard]] double before_the_first() const {
    if (!bar_) return kMinute * kSetUpMinutes;
    const bool full = std::any_of(crew_.begin(), crew_.end(),
                                  [](const LaneUser& user) { return user.block.size == BlockSize::full; });
    return kMinute * (full ? kRampMinutes : kRampMinutesShort);
  }

  [[nodiscard]] int rounds() const {
    int most = 0;
    for (const LaneUser& user : crew_) most = std::max(most, number(user));
    return most;
  }

  // One after the other in every round, and nobody before the rest since the last turn is over.
  [[nodiscard]] std::vector<std::vector<double>> in_turn() const {
    std::vector<std::vector<double>> starts(crew_.size());
    double free = before_the_first();
    for (int round = 0; round < rounds(); ++round) {
      double begins = free;
      double before = 0.0;  // in this round
      for (std::size_t i = 0; i < crew_.size(); ++i) {
        if (round >= number(crew_[i])) continue;
        if (!starts[i].empty())
          begins = std::max(begins, starts[i].back() + length(crew_[i]) + rest() - before);
        before += length(crew_[i]);
      }
      for (std::size_t i = 0; i < crew_.size(); ++i) {
        if (round >= number(crew_[i])) continue;
        starts[i].push_back(begins);
        begins += length(crew_[i]);
      }
      free = begins;
    }
    return starts;
  }

  // Rounds of a shuttle are spread over the block: what is between two drags is done without the sled.
  void spread(std::vector<std::vector<double>>& starts) const {
    double room = 1e9;
    std::size_t most = 0;
    for (std::size_t i = 0; i < crew_.size(); ++i) {
      room = std::min(room, crew_[i].block.minutes * kMinute - starts[i].back() - length(crew_[i]));
      most = std::max(most, starts[i].size());
    }
    if (most < 2 || room < kGrid) return;
    const double more = std::floor(room / static_cast<double>(most - 1) / kGrid) * kGrid;
    for (auto& turns : starts) {
      for (std::size_t round = 0; round < turns.size(); ++round)
        turns[round] += more * static_cast<double>(round);
    }
  }

  bool bar_;
  const std::vector<LaneUser>& crew_;
  const SquadRules& rules_;
};

std::string turn_text(const LaneUser& user, int turn, int turns, Pounds load, const std::string& word) {
  const bool lowered = word == "bar" && user.block.load && load < *user.block.load;
  std::string text = turn == 0 ? user.block.prescription : fmt::format("turn {} of {}", turn + 1, turns);
  if (word == "bar" && turn > 0) text += fmt::format(": {:g} lb", load.value());
  if (lowered && turn == 0)
    text += fmt::format(" (here at most {:g} lb: the plates are shared this morning)", load.value());
  return text;
}

std::string side_text(const PlatePairs& pairs) {
  std::string text;
  for (auto pair = pairs.rbegin(); pair != pairs.rend(); ++pair) {
    if (pair->second == 0) continue;
    if (!text.empty()) text += "+";
    text += pair->second == 1 ? fmt::format("{:g}", pair->first)
                              : fmt::format("{}×{:g}", pair->second, pair->first);
  }
  return text.empty() ? "no plates" : text + " for each side";
}

Station lane_of(const std::vector<LaneUser>& crew, const std::vector<Pounds>& loads, const Wave& wave,
                std::size_t lane, const SquadRules& rules) {
  Station station;
  station.work = crew.front().block.work;
  station.lane = fmt::format("{} {}", wave.word, lane + 1);
  const LaneTurns turns(wave.word, crew, rules);
  const auto starts = turns.starts();
  for (std::size_t i = 0; i < crew.size(); ++i) {
    for (std::size_t round = 0; round < starts[i].size(); ++round) {
      Turn turn;
      turn.id = crew[i].id;
      turn.from = wave.starts + starts[i][round] / kMinute;
      turn.to = turn.from + turns.length(crew[i]) / kMinute;
      turn.prescription =
          turn_text(crew[i], static_cast<int>(round), turns.number(crew[i]), loads[i], wave.word);
      if (wave.word == "bar") turn.load = loads[i];
      station.turns.push_back(std::move(turn));
    }
  }
  std::stable_sort(station.turns.begin(), station.turns.end(),
                   [](const Turn& a, const Turn& b) { return a.from < b.from; });
  return station;
}

std::vector<std::size_t> even_sizes(std::size_t people, std::size_t lanes) {
  std::vector<std::size_t> sizes;
  for (std::size_t l = 0; l < lanes && people > 0; ++l) {
    const std::size_t size = (people + (lanes - l) - 1) / (lanes - l);
    sizes.push_back(size);
    people -= size;
  }
  return sizes;
}

// Cuts quarters in rising order into at most so many groups, each within the spread if that can be.
std::vector<std::size_t> pace_groups(const std::vector<double>& quarters) {
  std::vector<std::size_t> sizes;
  for (int groups = 1; groups <= kMostRunGroups; ++groups) {
    // The least spread that so many groups can keep, by halving over the spreads that occur.
    std::vector<double> spreads{0.0};
    for (std::size_t i = 0; i < quarters.size(); ++i) {
      for (std::size_t j = i + 1; j < quarters.size(); ++j) spreads.push_back(quarters[j] - quarters[i]);
    }
    std::sort(spreads.begin(), spreads.end());
    const auto cut = [&](double spread) {
      std::vector<std::size_t> out;
      for (std::size_t from = 0; from < quarters.size();) {
        std::size_t end = from;
        while (end < quarters.size() && quarters[end] - quarters[from] <= spread + 1e-9) ++end;
        out.push_back(end - from);
        from = end;
      }
      return out;
    };
    const auto enough = std::partition_point(spreads.begin(), spreads.end(), [&](double spread) {
      return cut(spread).size() > static_cast<std::size_t>(groups);
    });
    sizes = cut(*enough);
    if (*enough <= kRunGroupSpread) break;
  }
  return sizes;
}

Turn turn_of(const Stay& stay) {
  Turn turn;
  turn.id = stay.id;
  turn.from = stay.starts;
  turn.to = stay.starts + stay.block.minutes;
  turn.prescription = stay.block.prescription;
  turn.quarter = stay.block.quarter;
  if (stay.without_kit) {
    turn.prescription =
        "No lane is free this morning: split squats, squats with a loaded pack, rows and carries with what "
        "is "
        "at hand, for the same minutes; stop when form goes";
  }
  return turn;
}

// People who run the same work from the same minute, the fastest first.
void add_runs(std::vector<Stay> stays, int& group, std::vector<Station>& out) {
  std::stable_sort(stays.begin(), stays.end(),
                   [](const Stay& a, const Stay& b) { return *a.block.quarter < *b.block.quarter; });
  std::vector<double> quarters;
  for (const Stay& stay : stays) quarters.push_back(stay.block.quarter->value());
  std::size_t at = 0;
  int behind = 0;
  for (const std::size_t size : pace_groups(quarters)) {
    Station station;
    station.work = stays.front().block.work;
    station.lane = fmt::format("run group {}", ++group);
    const Seconds leader = *stays[at + size - 1].block.quarter;
    station.note = fmt::format("leader's lap of 400 m: {}", quarter_text(leader));
    if (behind > 0) station.note += fmt::format("; starts {} min after the first", behind);
    ++behind;
    for (std::size_t i = 0; i < size; ++i) station.turns.push_back(turn_of(stays[at + i]));
    at += size;
    out.push_back(std::move(station));
  }
}

}  // namespace

std::string quarter_text(Seconds quarter) {
  const int seconds = static_cast<int>(std::ceil(quarter.value() - 1e-9));
  return fmt::format("{}:{:02}", seconds / 60, seconds % 60);
}

std::vector<Station> lane_stations(const Wave& wave, const MorningTask& task) {
  std::vector<LaneUser> users = wave.users;
  // Lightest first; whole courses, which hold the lane longest, after single drags.
  std::stable_sort(users.begin(), users.end(), [](const LaneUser& a, const LaneUser& b) {
    return a.load != b.load ? a.load < b.load : a.block.rehearsal < b.block.rehearsal;
  });
  std::vector<Pounds> rising;
  for (const LaneUser& user : users) rising.push_back(user.load);
  const bool bars = wave.word == "bar";
  std::vector<std::size_t> sizes;
  if (bars) {
    const auto cut = cut_lanes(rising, static_cast<std::size_t>(wave.lanes), kPeopleALane, task.equipment);
    if (cut) sizes = cut->sizes;
  } else {
    sizes = even_sizes(users.size(), static_cast<std::size_t>(wave.lanes));
  }
  std::vector<std::vector<LaneUser>> crews;
  std::vector<std::vector<Pounds>> loads;
  auto from = users.begin();
  for (const std::size_t size : sizes) {
    crews.emplace_back(from, from + static_cast<std::ptrdiff_t>(size));
    from += static_cast<std::ptrdiff_t>(size);
    loads.emplace_back();
    for (const LaneUser& user : crews.back()) loads.back().push_back(user.load);
  }
  DealtLanes dealt{loads, std::vector<PlatePairs>(crews.size()), false};
  if (bars) dealt = deal_or_lower(loads, task.equipment);
  std::vector<Station> out;
  for (std::size_t l = 0; l < crews.size(); ++l) {
    out.push_back(lane_of(crews[l], dealt.loads[l], wave, l, task.rules.squad));
    if (bars)
      out.back().equipment =
          fmt::format("{:g} lb bar, {}", task.equipment.bar_lb, side_text(dealt.plates[l]));
    if (wave.word == "sled") out.back().equipment = "sled and kettlebells";
  }
  return out;
}

std::vector<Station> join_stations(std::vector<Station> lanes, const std::vector<Stay>& stays,
                                   const MorningTask& task) {
  std::vector<Station> out = std::move(lanes);
  std::map<std::pair<int, std::string>, std::vector<Stay>> runs;
  std::map<std::pair<int, std::string>, std::vector<Stay>> others;
  for (const Stay& stay : stays) {
    const bool paced = stay.block.quarter && task.model.find_work(stay.block.work)->running;
    (paced ? runs : others)[{stay.starts, stay.block.work}].push_back(stay);
  }
  int run_groups = 0;
  for (auto& [key, group] : runs) add_runs(std::move(group), run_groups, out);
  for (const auto& [key, group] : others) {
    Station station;
    station.work = key.second;
    for (const Stay& stay : group) station.turns.push_back(turn_of(stay));
    if (std::any_of(group.begin(), group.end(), [](const Stay& stay) { return stay.without_kit; }))
      station.note = "more people than lanes";
    out.push_back(std::move(station));
  }
  std::stable_sort(out.begin(), out.end(), [](const Station& a, const Station& b) {
    return a.turns.front().from < b.turns.front().from;
  });
  return out;
}

}  // namespace backplan

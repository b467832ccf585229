#include "core/morning_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "backplan/lanes.hpp"
#include "core/plate_pairs.hpp"
#include "core/prescription_parts.hpp"

namespace backplan {
namespace {

constexpr double kMinute = 60.0;
static_assert(kRunGroupGap == kMinute, "run groups start at whole minutes");

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
  [[nodiscard]] std::vector<std::vector<double>> starts() const { return bar_ ? in_turn() : as_prescribed(); }

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

  // From the start of one round to the start of the next.
  [[nodiscard]] double every(const LaneUser& user) const {
    return user.block.rounds ? user.block.rounds->every_s : length(user) + rest();
  }

  // Everybody's rounds as far apart as the prescription says. Who is ready first goes first; as those with
  // the shorter rounds come first in the crew, nobody waits for a later round.
  [[nodiscard]] std::vector<std::vector<double>> as_prescribed() const {
    std::vector<std::vector<double>> starts(crew_.size());
    std::vector<double> ready(crew_.size(), before_the_first());
    double free = 0.0;
    for (;;) {
      std::optional<std::size_t> next;
      for (std::size_t i = 0; i < crew_.size(); ++i) {
        if (static_cast<int>(starts[i].size()) == number(crew_[i])) continue;
        if (!next || ready[i] < ready[*next]) next = i;
      }
      if (!next) return starts;
      const double begins = std::ceil(std::max(free, ready[*next]) / kGrid - 1e-9) * kGrid;
      starts[*next].push_back(begins);
      free = begins + length(crew_[*next]);
      ready[*next] = begins + every(crew_[*next]);
    }
  }

  bool bar_;
  const std::vector<LaneUser>& crew_;
  const SquadRules& rules_;
};

// The lane's own plates decide what is written: they may be fewer than all.
std::string first_text(const LaneUser& user, Pounds load, const Equipment& lane_kit) {
  if (!user.block.lift || !user.block.load) return user.block.prescription;
  std::string text = lift_text(*user.block.lift, load, lane_kit);
  if (load < *user.block.load)
    text += fmt::format("; {:g} lb as planned: too few plates this morning", user.block.load->value());
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

Turn lane_turn(const LaneUser& user, double from, double length) {
  Turn turn;
  turn.id = user.id;
  turn.from = from;
  turn.to = from + length / kMinute;
  turn.size = user.block.size;
  return turn;
}

// The first turn has the heaviest load; after a top triple come the sets.
void put_load(Turn& turn, const LaneUser& user, std::size_t round, Pounds load, const Equipment& lane_kit) {
  const Block& block = user.block;
  turn.load = load;
  if (round == 0) {
    if (block.load && load < *block.load) turn.planned_load = block.load;
    return;
  }
  if (block.lift && block.lift->top_triple) {
    const Pounds sets = std::min(block.lift->sets_load, load);
    turn.load = loadable(sets, sets, lane_kit);
  }
  turn.prescription += fmt::format(": {:g} lb", turn.load->value());
}

Station lane_of(const std::vector<LaneUser>& crew, const std::vector<Pounds>& loads, const Wave& wave,
                std::size_t lane, const Equipment& lane_kit, const SquadRules& rules) {
  Station station;
  station.work = crew.front().block.work;
  station.lane = fmt::format("{} {}", wave.word, lane + 1);
  const bool bar = wave.word == "bar";
  const LaneTurns turns(wave.word, crew, rules);
  const auto starts = turns.starts();
  for (std::size_t i = 0; i < crew.size(); ++i) {
    for (std::size_t round = 0; round < starts[i].size(); ++round) {
      Turn turn = lane_turn(crew[i], wave.starts + starts[i][round] / kMinute, turns.length(crew[i]));
      turn.prescription = round == 0
                              ? bar ? first_text(crew[i], loads[i], lane_kit) : crew[i].block.prescription
                              : fmt::format("turn {} of {}", round + 1, turns.number(crew[i]));
      if (bar) put_load(turn, crew[i], round, loads[i], lane_kit);
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

// Quarters in rising order cut into at most so many groups with the least spread.
struct PaceCut {
  std::vector<std::size_t> sizes;
  double spread = 0.0;  // seconds, of the widest group
};

PaceCut pace_cut(const std::vector<double>& quarters, int groups) {
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
  // By halving over the spreads that occur.
  const auto enough = std::partition_point(spreads.begin(), spreads.end(), [&](double spread) {
    return cut(spread).size() > static_cast<std::size_t>(groups);
  });
  return {cut(*enough), *enough};
}

Turn turn_of(const Stay& stay) {
  Turn turn;
  turn.id = stay.id;
  turn.from = stay.starts + stay.delay;
  turn.to = turn.from + stay.block.minutes;
  turn.size = stay.block.size;
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

// Run groups of one morning: few, by pace, and one after the other.
class RunGroups {
 public:
  // `room`: minutes by which a group may start later than its people could.
  RunGroups(std::vector<Stay>& stays, int room) : stays_(stays), room_(room) {}

  // All runs, of whatever work, that can begin at this minute: the fastest of each work first.
  void start(const std::map<std::string, std::vector<Stay*>>& works, std::vector<Station>& out) {
    std::vector<Kind> kinds;
    for (const auto& [work, stays] : works) {
      Kind kind{stays, {}, 1, {}};
      std::stable_sort(kind.stays.begin(), kind.stays.end(),
                       [](const Stay* a, const Stay* b) { return *a->block.quarter < *b->block.quarter; });
      for (const Stay* stay : kind.stays) kind.quarters.push_back(stay->block.quarter->value());
      kind.cut = pace_cut(kind.quarters, 1);
      kinds.push_back(std::move(kind));
    }
    split(kinds);
    for (const Kind& kind : kinds) {
      std::size_t at = 0;
      for (const std::size_t size : kind.cut.sizes) {
        out.push_back(group_of({kind.stays.begin() + static_cast<std::ptrdiff_t>(at),
                                kind.stays.begin() + static_cast<std::ptrdiff_t>(at + size)}));
        at += size;
      }
    }
  }

 private:
  struct Kind {
    std::vector<Stay*> stays;
    std::vector<double> quarters;
    int groups = 1;
    PaceCut cut;
  };

  // One group more for the widest, as long as it is too wide and there may be more.
  void split(std::vector<Kind>& kinds) const {
    const auto most = static_cast<std::size_t>(1 + std::min(kMostRunGroups - 1, room_));
    for (std::size_t all = kinds.size(); all < most; ++all) {
      const auto widest = std::max_element(kinds.begin(), kinds.end(), [](const Kind& a, const Kind& b) {
        return a.cut.spread < b.cut.spread;
      });
      if (widest->cut.spread <= kRunGroupSpread) return;
      widest->cut = pace_cut(widest->quarters, ++widest->groups);
    }
  }

  // A minute at which no other group starts, as soon as all of this one can be there; where the room has
  // none, the first at which they can be there.
  [[nodiscard]] int free_delay(const std::vector<Stay*>& people) const {
    int delay = 0;
    for (const Stay* stay : people) delay = std::max(delay, stay->delay);
    const int starts = people.front()->starts;
    for (int later = delay; later <= room_; ++later) {
      if (taken_.count(starts + later) == 0) return later;
    }
    return delay;
  }

  Station group_of(const std::vector<Stay*>& people) {
    const int delay = free_delay(people);
    taken_.insert(people.front()->starts + delay);
    Station station;
    station.work = people.front()->block.work;
    station.lane = fmt::format("run group {}", ++number_);
    station.note = fmt::format("leader's lap of 400 m: {}", quarter_text(*people.back()->block.quarter));
    for (Stay* stay : people) {
      // What the person does after the run moves with it.
      for (Stay& other : stays_) {
        if (other.id == stay->id && other.starts >= stay->starts) other.delay = std::max(other.delay, delay);
      }
      station.turns.push_back(turn_of(*stay));
    }
    return station;
  }

  std::vector<Stay>& stays_;
  int room_;
  int number_ = 0;
  std::set<int> taken_;
};

}  // namespace

std::string quarter_text(Seconds quarter) {
  const int seconds = static_cast<int>(std::ceil(quarter.value() - 1e-9));
  return fmt::format("{}:{:02}", seconds / 60, seconds % 60);
}

namespace {

// The lightest first on bars. On sleds the shortest rounds, and whole courses, which hold the lane longest,
// last.
void put_in_order(std::vector<LaneUser>& users, bool bars) {
  const auto rank = [&](const LaneUser& user) {
    if (bars) return std::pair(0, user.load.value());
    return std::pair(user.block.rehearsal ? 1 : 0, user.block.rounds ? user.block.rounds->every_s : 0.0);
  };
  std::stable_sort(users.begin(), users.end(),
                   [&](const LaneUser& a, const LaneUser& b) { return rank(a) < rank(b); });
}

}  // namespace

std::vector<Station> lane_stations(const Wave& wave, const MorningTask& task) {
  std::vector<LaneUser> users = wave.users;
  const bool bars = wave.word == "bar";
  put_in_order(users, bars);
  const auto lanes = static_cast<std::size_t>(wave.lanes);
  std::optional<SharedBars> shared;
  if (bars) {
    std::vector<Pounds> rising;
    for (const LaneUser& user : users) rising.push_back(user.load);
    shared = share_bars(rising, lanes, kPeopleALane, task.equipment);
    if (!shared) return {};
  }
  const std::vector<std::size_t> sizes = shared ? shared->sizes : even_sizes(users.size(), lanes);
  std::vector<Station> out;
  auto from = users.begin();
  for (std::size_t l = 0; l < sizes.size(); ++l) {
    const auto to = from + static_cast<std::ptrdiff_t>(sizes[l]);
    const std::vector<LaneUser> crew(from, to);
    from = to;
    const Equipment kit = shared ? with_pairs(task.equipment, shared->plates[l]) : task.equipment;
    out.push_back(
        lane_of(crew, shared ? shared->loads[l] : std::vector<Pounds>{}, wave, l, kit, task.rules.squad));
    if (shared)
      out.back().equipment =
          fmt::format("{:g} lb bar, {}", task.equipment.bar_lb, side_text(shared->plates[l]));
    if (wave.word == "sled") out.back().equipment = "sled and kettlebells";
  }
  return out;
}

std::vector<Station> join_stations(std::vector<Station> lanes, std::vector<Stay> stays, int room,
                                   const MorningTask& task) {
  std::vector<Station> out = std::move(lanes);
  std::map<int, std::map<std::string, std::vector<Stay*>>> runs;
  std::map<std::pair<int, std::string>, std::vector<Stay*>> others;
  for (Stay& stay : stays) {
    const bool paced = stay.block.quarter && task.model.find_work(stay.block.work)->running;
    if (paced) {
      runs[stay.starts][stay.block.work].push_back(&stay);
    } else {
      others[{stay.starts, stay.block.work}].push_back(&stay);
    }
  }
  RunGroups groups(stays, std::max(0, room));
  for (const auto& [starts, works] : runs) groups.start(works, out);
  for (const auto& [key, people] : others) {
    Station station;
    station.work = key.second;
    for (const Stay* stay : people) station.turns.push_back(turn_of(*stay));
    std::stable_sort(station.turns.begin(), station.turns.end(),
                     [](const Turn& a, const Turn& b) { return a.from < b.from; });
    if (std::any_of(people.begin(), people.end(), [](const Stay* stay) { return stay->without_kit; }))
      station.note = "more people than lanes";
    out.push_back(std::move(station));
  }
  std::stable_sort(out.begin(), out.end(), [](const Station& a, const Station& b) {
    return a.turns.front().from < b.turns.front().from;
  });
  return out;
}

}  // namespace backplan

#include "backplan/morning.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "backplan/lanes.hpp"
#include "backplan/programme.hpp"
#include "core/morning_parts.hpp"

namespace backplan {
namespace {

constexpr int kMostWaves = 8;
constexpr int kLeastRecovery = 1;  // minutes of it that run groups one after the other leave (judgement)

bool needs(const WorkKind& kind, const std::string& what) {
  return std::find(kind.needs.begin(), kind.needs.end(), what) != kind.needs.end();
}

// Work that may come before a lift: nothing hard, no run.
bool may_come_first(const Block& block, const WorkKind& kind) {
  return !kind.hard && !kind.running && !block.rehearsal;
}

int sum_with_changes(const std::vector<const Block*>& blocks, int change) {
  int sum = 0;
  for (const Block* block : blocks) sum += block->minutes + change;
  return sum;
}

}  // namespace

std::string lane_word(const WorkKind& kind) {
  if (needs(kind, "hex_bar")) return "bar";
  if (needs(kind, "sled")) return "sled";
  return {};
}

int lanes_for(const WorkKind& kind, const SquadEquipment& equipment) {
  const std::string word = lane_word(kind);
  if (word == "bar") return equipment.hex_bars;
  if (word == "sled")
    return needs(kind, "kettlebells") ? std::min(equipment.sleds, equipment.kettlebell_pairs)
                                      : equipment.sleds;
  return 0;
}

// Lanes open when everybody has prepared, whatever the single session is like.
int lanes_open(int minutes, const Rules& rules) {
  return minutes < rules.short_slot_under ? rules.short_preparation_minutes : rules.preparation_minutes;
}

std::optional<VisitOrder> order_for_wave(const LaneVisit& visit, int wave, const Model& model,
                                         const Rules& rules) {
  const Preparation around = preparation_for(visit.blocks, rules);
  const int change = rules.change_over_minutes;
  const int starts = lanes_open(visit.minutes, rules) + wave * visit.wave_minutes;
  const Block& own = visit.blocks[visit.at];
  std::optional<VisitOrder> best;
  const std::size_t others = visit.blocks.size();
  for (unsigned mask = 0; mask < (1U << others); ++mask) {
    if ((mask >> visit.at & 1U) != 0) continue;
    VisitOrder order;
    bool fine = true;
    for (std::size_t i = 0; i < others; ++i) {
      if (i == visit.at) continue;
      const Block& block = visit.blocks[i];
      const bool before = (mask >> i & 1U) != 0;
      if (before && !may_come_first(block, *model.find_work(block.work))) fine = false;
      (before ? order.before : order.after).push_back(&block);
    }
    if (!fine || lanes_open(visit.minutes, rules) + sum_with_changes(order.before, change) > starts) continue;
    order.ends = starts + own.minutes + sum_with_changes(order.after, change) + around.after;
    if (order.ends > visit.minutes) continue;
    if (!best || order.ends < best->ends) best = order;
  }
  return best;
}

std::vector<bool> waves_of(const LaneVisit& visit, const Model& model, const Rules& rules) {
  std::vector<bool> waves;
  for (int wave = 0; wave < kMostWaves; ++wave)
    waves.push_back(order_for_wave(visit, wave, model, rules).has_value());
  return waves;
}

int waves_in_a_row(const std::vector<bool>& waves) {
  return static_cast<int>(std::find(waves.begin(), waves.end(), false) - waves.begin());
}

Preparation preparation_for(const std::vector<Block>& blocks, const Rules& rules) {
  int minutes = 0;
  for (const Block& block : blocks) minutes += block.minutes;
  const int session = session_minutes(rules, minutes, static_cast<int>(blocks.size()));
  if (session < rules.short_slot_under)
    return {rules.short_preparation_minutes, rules.short_recovery_minutes};
  return {rules.preparation_minutes, rules.recovery_minutes};
}

namespace {

// One person on this morning, with what is done when.
struct Visitor {
  std::string id;
  std::vector<Block> blocks;  // of the slot
  std::optional<std::size_t> lane_block;
  std::string lane;
  std::vector<bool> waves;
  int wave = -1;
  Pounds load{0.0};
};

// Finds a wave for every user of one kind of lane, moving others to later waves where that makes room.
class Waves {
 public:
  Waves(std::vector<Visitor*> users, int places) : users_(std::move(users)), places_(places) {
    std::stable_sort(users_.begin(), users_.end(), [](const Visitor* a, const Visitor* b) {
      const auto choices = [](const Visitor& v) { return std::count(v.waves.begin(), v.waves.end(), true); };
      return choices(*a) != choices(*b) ? choices(*a) < choices(*b) : a->load < b->load;
    });
  }

  int run() {
    int left_over = 0;
    for (Visitor* user : users_) {
      std::vector<bool> tried(kMostWaves, false);
      if (!place(*user, tried)) ++left_over;
    }
    return left_over;
  }

 private:
  bool place(Visitor& user, std::vector<bool>& tried) {
    for (int wave = 0; wave < kMostWaves; ++wave) {
      const auto w = static_cast<std::size_t>(wave);
      if (tried[w] || !user.waves[w]) continue;
      tried[w] = true;
      std::vector<Visitor*> there;
      for (Visitor* other : users_) {
        if (other->wave == wave) there.push_back(other);
      }
      if (static_cast<int>(there.size()) < places_) {
        user.wave = wave;
        return true;
      }
      for (Visitor* other : there) {
        other->wave = -1;
        if (place(*other, tried)) {
          user.wave = wave;
          return true;
        }
        other->wave = wave;
      }
    }
    return false;
  }

  std::vector<Visitor*> users_;
  int places_;
};

class Scheduler {
 public:
  Scheduler(const MorningTask& task, std::vector<Overflow>& overflow) : task_(task), overflow_(overflow) {
    for (const Attendee& one : task.people) {
      Visitor visitor;
      visitor.id = one.id;
      for (const Block& block : one.day->blocks) {
        if (block.size == BlockSize::home) continue;
        const std::string lane = lane_word(*task.model.find_work(block.work));
        if (!lane.empty() && !visitor.lane_block) {
          visitor.lane_block = visitor.blocks.size();
          visitor.lane = lane;
          visitor.load = block.load.value_or(Pounds(task.equipment.bar_lb));
        }
        visitor.blocks.push_back(block);
      }
      if (!visitor.blocks.empty()) visitors_.push_back(std::move(visitor));
    }
  }

  Morning run() {
    morning_.date = task_.date;
    morning_.minutes = task_.minutes;
    for (const char* word : {"bar", "sled"}) use_lanes(word);
    for (const Visitor& visitor : visitors_) add_stays(visitor);
    morning_.stations = join_stations(std::move(lanes_), std::move(stays_), room_, task_);
    return std::move(morning_);
  }

 private:
  void use_lanes(const std::string& word) {
    std::vector<Visitor*> users;
    int wave_minutes = 0;
    int lanes = 0;
    for (Visitor& visitor : visitors_) {
      if (visitor.lane != word) continue;
      const Block& block = visitor.blocks[*visitor.lane_block];
      users.push_back(&visitor);
      wave_minutes = std::max(wave_minutes, block.minutes);
      lanes = lanes_for(*task_.model.find_work(block.work), task_.kit);
    }
    if (users.empty()) return;
    for (Visitor* user : users)
      user->waves =
          waves_of({user->blocks, *user->lane_block, task_.minutes, wave_minutes}, task_.model, task_.rules);
    const int left_over = Waves(users, lanes * kPeopleALane).run();
    if (left_over > 0) overflow_.push_back({word, left_over});
    wave_minutes_[word] = wave_minutes;
    for (int wave = 0; wave < kMostWaves; ++wave) {
      std::vector<LaneUser> crew;
      for (const Visitor* user : users) {
        if (user->wave != wave) continue;
        crew.push_back({user->id, user->blocks[*user->lane_block], user->load});
      }
      if (crew.empty()) continue;
      const int starts = lanes_open(task_.minutes, task_.rules) + wave * wave_minutes;
      const auto stations = lane_stations({std::move(crew), word, lanes, starts}, task_);
      lanes_.insert(lanes_.end(), stations.begin(), stations.end());
    }
  }

  // The blocks that need no lane, before and after the one that does.
  void add_stays(const Visitor& visitor) {
    const Preparation around = preparation_for(visitor.blocks, task_.rules);
    const int change = task_.rules.change_over_minutes;
    // All prepare together; a short session that would not end in time begins when its own is done.
    int inner = -change;
    for (const Block& block : visitor.blocks) inner += block.minutes + change;
    int at = std::min(lanes_open(task_.minutes, task_.rules), task_.minutes - around.after - inner);
    const auto stay = [&](const Block& block, bool without_kit) {
      stays_.push_back({visitor.id, block, at, without_kit});
      at += block.minutes + change;
    };
    if (!visitor.lane_block || visitor.wave < 0) {
      for (std::size_t i = 0; i < visitor.blocks.size(); ++i)
        stay(visitor.blocks[i], visitor.lane_block && i == *visitor.lane_block);
      leave_room(at - change);
      return;
    }
    const int wave_minutes = wave_minutes_.at(visitor.lane);
    const LaneVisit visit{visitor.blocks, *visitor.lane_block, task_.minutes, wave_minutes};
    const auto order = order_for_wave(visit, visitor.wave, task_.model, task_.rules);
    for (const Block* block : order->before) stay(*block, false);
    at = lanes_open(task_.minutes, task_.rules) + visitor.wave * wave_minutes;
    at += visitor.blocks[*visitor.lane_block].minutes + change;
    for (const Block* block : order->after) stay(*block, false);
    leave_room(at - change);
  }

  void leave_room(int ends) { room_ = std::min(room_, task_.minutes - kLeastRecovery - ends); }

  const MorningTask& task_;
  std::vector<Overflow>& overflow_;
  std::vector<Visitor> visitors_;
  std::map<std::string, int> wave_minutes_;
  std::vector<Station> lanes_;
  std::vector<Stay> stays_;
  int room_ = std::numeric_limits<int>::max();  // minutes by which all could be later
  Morning morning_;
};

}  // namespace

Morning schedule_morning(const MorningTask& task, std::vector<Overflow>& overflow) {
  return Scheduler(task, overflow).run();
}

}  // namespace backplan

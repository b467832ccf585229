// The exact search for the best pack: depth-first with optimistic bounds.
#include <algorithm>

#include "core/packs.hpp"

namespace backplan {
namespace {
constexpr double kTie = 1e-12;
}  // namespace

// Depth-first over the kinds with an optimistic bound on what the rest can still add.
struct PackSearch::Search {
  PackSearch& owner;
  const Segment& segment;
  const Prices& prices;
  bool unknown_fits;
  Memory& known;
  Room room{};
  // By kind in the order of the search, hard blocks left, slot minutes left.
  std::vector<std::array<std::vector<double>, kMostHardLeft + 1>> most_stimulus{};
  Pack pack{};
  Stimuli u{};
  Pack best_pack{};
  double best = -1e300;
  int best_minutes = 0;
  bool surely_fits = true;                   // the best pack's placing was found, not only given up
  std::vector<Column>* collected = nullptr;  // collects every pack above `best` instead of raising it
  std::size_t most = 0;

  [[nodiscard]] std::size_t events() const { return owner.states_.size(); }

  [[nodiscard]] double value(const Stimuli& at) const { return owner.value(segment, prices, at); }

  [[nodiscard]] double optimistic(std::size_t place, int cost_left, int hard_left) const {
    Stimuli at = u;
    const auto hard = static_cast<std::size_t>(std::clamp(hard_left, 0, kMostHardLeft));
    for (std::size_t rest = place; rest < owner.order_.size(); ++rest) {
      const double stimulus = most_stimulus[rest][hard][static_cast<std::size_t>(cost_left)];
      const std::size_t k = owner.order_[rest];
      for (std::size_t e = 0; e < events(); ++e) at[e] += owner.transfer_[e][k] * stimulus;
    }
    return value(at);
  }

  // The same, with the minutes left shared by the kinds: each event's curve is replaced by its
  // steepest chord, and all minutes go to the kind that then pays most.
  [[nodiscard]] double optimistic_shared(std::size_t place, int cost_left, int hard_left,
                                         int home_left) const {
    Stimuli slope{};
    for (std::size_t e = 0; e < events(); ++e) {
      if (segment.counted[e] == 0.0) continue;
      const DoseTables::Effect& effect = owner.tables_.at(e, u[e] / segment.share);
      slope[e] = segment.counted[e] / segment.share *
                 (prices.s[e] * effect.gain_chord + prices.loss[e] * effect.loss_chord);
    }
    double best_minute = 0.0;
    double best_stimulus = 0.0;
    for (std::size_t rest = place; rest < owner.order_.size(); ++rest) {
      const std::size_t k = owner.order_[rest];
      if (room.days[k].home == 0) continue;
      double unit = 0.0;
      for (std::size_t e = 0; e < events(); ++e) unit += owner.transfer_[e][k] * slope[e];
      best_stimulus = std::max(best_stimulus, unit);
      if (room.days[k].shorter == 0) continue;
      if (hard_left == 0 && owner.calendar_.traits(static_cast<int>(k)).hard) continue;
      best_minute = std::max(best_minute, unit * owner.per_minute_[k]);
    }
    return value(u) + best_minute * cost_left + best_stimulus * owner.most_home_stimulus_ * home_left;
  }

  // False when the pack is worth no more than the best: one with less stimulus cannot be either.
  bool offer() {
    const double worth = value(u);
    if (worth <= best + kTie) return false;
    const Fit placement = owner.placed(pack, segment, known, kPlacingSteps);
    if (placement.outcome == Placing::impossible) return true;
    if (placement.outcome == Placing::unknown && !unknown_fits) return true;
    if (collected != nullptr) {
      collected->push_back(owner.column_of(pack, segment, placement.minutes));
      collected->back().sure = placement.outcome == Placing::done;
      return true;
    }
    best = worth;
    best_pack = pack;
    best_minutes = placement.minutes;
    surely_fits = placement.outcome == Placing::done;
    return true;
  }

  void descend(std::size_t place, int cost, int blocks, int hard, int home, int home_minutes) {
    const int hard_left = segment.most_hard - hard;
    if (collected != nullptr && collected->size() > most) return;
    if (optimistic_shared(place, room.capacity - cost, hard_left, owner.home_blocks_ - home) <= best + kTie)
      return;
    if (optimistic(place, room.capacity - cost, hard_left) <= best + kTie) return;
    const std::size_t k = owner.order_[place];
    const WorkKind& kind = *owner.calendar_.kinds()[k];
    const int most_a_week = owner.calendar_.most_a_week(k);
    const Stimuli before = u;
    for (const Option& option : owner.options_[k]) {
      const int all = cost + option.cost;
      const int all_blocks = blocks + option.blocks;
      if (all > room.capacity || hard + option.hard > segment.most_hard) continue;
      if (home + option.home > owner.home_blocks_ || all_blocks > room.most_blocks) continue;
      if (!room.holds(k, option.count)) continue;
      if (kind.family == "intervals" && option.blocks > segment.most_intervals) continue;
      if (option.blocks > 0 && option.blocks + done_of(segment, k) > most_a_week) continue;
      const int minutes_home = home_minutes + option.home_minutes;
      if (all + room.least_overhead[static_cast<std::size_t>(all)] + minutes_home > segment.most_minutes)
        continue;
      pack.kinds[k] = option.count;
      for (std::size_t e = 0; e < events(); ++e) u[e] = before[e] + owner.transfer_[e][k] * option.stimulus;
      if (place + 1 < owner.order_.size()) {
        descend(place + 1, all, all_blocks, hard + option.hard, home + option.home, minutes_home);
      } else if (!offer()) {
        break;  // the options come strongest first
      }
    }
    u = before;
    pack.kinds[k] = {};
  }
};

void PackSearch::run(Search& search) const {
  search.room = room_in(search.segment);
  for (const std::size_t k : order_)
    search.most_stimulus.push_back(most_stimulus_of(k, search.room, search.segment));
  search.u = fixed_stimuli(search.segment);
  if (order_.empty()) {
    search.offer();
  } else {
    search.descend(0, 0, 0, 0, 0, 0);
  }
}

Column PackSearch::best(const Segment& segment, const Prices& prices, bool unknown_fits) {
  if (segment.kept) return column_of(*segment.kept, segment, segment.most_minutes);
  Search search{*this, segment, prices, unknown_fits, memory_[segment.days]};
  // A good start prunes most of the search.
  const Column start = good(segment, prices);
  search.best_pack = start.pack;
  search.best_minutes = start.minutes;
  search.best = worth(start, prices);
  run(search);
  Column column = column_of(search.best_pack, segment, search.best_minutes);
  column.sure = search.surely_fits;
  if (column.sure) remember(column.pack);
  return column;
}

std::vector<Column> PackSearch::all_above(const Segment& segment, const Prices& prices, double worth,
                                          std::size_t most) {
  if (segment.kept) return {column_of(*segment.kept, segment, segment.most_minutes)};
  std::vector<Column> out;
  Search search{*this, segment, prices, true, memory_[segment.days]};
  search.best = worth;
  search.collected = &out;
  search.most = most;
  run(search);
  return out;
}

std::array<std::vector<double>, kMostHardLeft + 1> PackSearch::most_stimulus_of(
    std::size_t k, const Room& room, const Segment& segment) const {
  const int capacity = room.capacity;
  std::array<std::vector<double>, kMostHardLeft + 1> out;
  // More than the segment's own are never asked for.
  for (int hard = 0; hard <= std::clamp(segment.most_hard, 0, kMostHardLeft); ++hard) {
    auto& most = out[static_cast<std::size_t>(hard)];
    most.assign(static_cast<std::size_t>(capacity) + 1, 0.0);
    for (const Option& option : options_[k]) {
      if (option.home > home_blocks_ || option.cost > capacity || !room.holds(k, option.count)) continue;
      if (option.hard > std::min(hard, segment.most_hard)) continue;
      auto& cell = most[static_cast<std::size_t>(option.cost)];
      cell = std::max(cell, option.stimulus);
    }
    for (std::size_t c = 1; c < most.size(); ++c) most[c] = std::max(most[c], most[c - 1]);
  }
  return out;
}

}  // namespace backplan

// A good pack, quickly: blocks are added while they pay, then one at a time is given up to see whether
// what takes its place pays more. No proof; the exact search starts from what is found here.
#include <algorithm>

#include "core/packs.hpp"

namespace backplan {
namespace {
constexpr double kPays = 1e-9;
constexpr int kQuickSteps = 100;  // of a placing: one that takes longer counts as impossible here
constexpr int kSeedings = 3;      // on the same days: later the packs that won are starts enough
}  // namespace

struct PackSearch::Climb {
  PackSearch& owner;
  const Segment& segment;
  const Prices& prices;
  Memory& known;
  Room room{};

  struct State {
    Pack pack;
    Stimuli u{};
    int cost = 0, blocks = 0, hard = 0, home = 0, home_minutes = 0;
    double worth = 0.0;
    int minutes = 0;
  };
  struct Block {
    std::size_t kind = 0;
    BlockSize size = BlockSize::full;
    friend bool operator==(const Block&, const Block&) = default;
  };
  struct Choice {
    double rate = 0.0;  // worth a minute
    Block block;
  };
  struct Grow {
    std::optional<Block> but;  // never this one
    bool hopeful = false;      // counts what a block could bring with more to come: past a keep dose
  };

  [[nodiscard]] const BlockShape& shape_of(const Block& block) const {
    return *owner.calendar_.kinds()[block.kind]->shape(block.size);
  }
  [[nodiscard]] static int count_of(const State& state, const Block& block) {
    return state.pack.kinds[block.kind].of(block.size);
  }

  [[nodiscard]] State empty() const {
    State state;
    state.u = owner.fixed_stimuli(segment);
    state.worth = owner.value(segment, prices, state.u);
    return state;
  }

  void add(State& state, const Block& block, int count) const {
    const WorkKind& kind = *owner.calendar_.kinds()[block.kind];
    const BlockShape& shape = shape_of(block);
    std::uint8_t& already = state.pack.kinds[block.kind].of(block.size);
    already = static_cast<std::uint8_t>(already + count);
    if (block.size == BlockSize::home) {
      state.home += count;
      state.home_minutes += count * shape.minutes;
    } else {
      state.cost += count * (shape.minutes + owner.calendar_.rules().change_over_minutes);
      state.blocks += count;
      if (kind.hard) state.hard += count;
    }
    for (std::size_t e = 0; e < owner.states_.size(); ++e)
      state.u[e] += count * owner.transfer_[e][block.kind] * shape.stimulus;
  }

  [[nodiscard]] State with(const State& before, const Block& block, int count) const {
    State after = before;
    add(after, block, count);
    after.worth = owner.value(segment, prices, after.u);
    return after;
  }

  [[nodiscard]] bool within_limits(const State& state, const Block& block) const {
    const WorkKind& kind = *owner.calendar_.kinds()[block.kind];
    const KindCount& n = state.pack.kinds[block.kind];
    const int in_slots = n.full + n.shorter;
    const int with_done = in_slots > 0 ? in_slots + done_of(segment, block.kind) : 0;
    if (with_done > owner.calendar_.most_a_week(block.kind) || in_slots + n.home > kMostOfAKind) return false;
    if (!room.holds(block.kind, n)) return false;
    if (state.home > owner.home_blocks_ || state.hard > segment.most_hard) return false;
    if (kind.family == "intervals" && in_slots > segment.most_intervals) return false;
    if (state.cost > room.capacity || state.blocks > room.most_blocks) return false;
    return state.cost + room.least_overhead[static_cast<std::size_t>(state.cost)] + state.home_minutes <=
           segment.most_minutes;
  }

  [[nodiscard]] bool fits(State& state) const {
    const Fit fit = owner.placed(state.pack, segment, known, kQuickSteps);
    state.minutes = fit.minutes;
    return fit.outcome == Placing::done;
  }

  // What a unit of the kind could bring at best: along the steepest chords from here.
  [[nodiscard]] double hope(const State& state, std::size_t kind) const {
    double sum = 0.0;
    for (std::size_t e = 0; e < owner.states_.size(); ++e) {
      if (segment.counted[e] == 0.0) continue;
      const DoseTables::Effect& effect = owner.tables_.at(e, state.u[e] / segment.share);
      sum += owner.transfer_[e][kind] * segment.counted[e] / segment.share *
             (prices.s[e] * effect.gain_chord + prices.loss[e] * effect.loss_chord);
    }
    return sum;
  }

  [[nodiscard]] std::vector<Choice> choices(const State& state, const Grow& how) const {
    std::vector<Choice> out;
    for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k) {
      const double hoped = how.hopeful ? hope(state, k) : 0.0;
      for (const BlockSize size : kBlockSizes) {
        const Block block{k, size};
        if (owner.calendar_.kinds()[k]->shape(size) == nullptr) continue;
        if (how.but && block == *how.but) continue;
        State more = state;
        add(more, block, 1);
        if (!within_limits(more, block)) continue;
        const double gain = how.hopeful ? hoped * shape_of(block).stimulus
                                        : owner.value(segment, prices, more.u) - state.worth;
        if (gain <= kPays) continue;
        const int minutes = more.cost - state.cost + more.home_minutes - state.home_minutes;
        out.push_back({gain / minutes, block});
      }
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const Choice& a, const Choice& b) { return a.rate > b.rate; });
    return out;
  }

  // Adds what pays most a minute until nothing fits or pays.
  [[nodiscard]] State grown(State state, const Grow& how) const {
    for (bool more = true; more;) {
      more = false;
      for (const Choice& choice : choices(state, how)) {
        State next = with(state, choice.block, 1);
        if (!fits(next)) continue;
        state = next;
        more = true;
        break;
      }
    }
    return state;
  }

  // Without the blocks that bring nothing.
  [[nodiscard]] State trimmed(State state) const {
    for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k) {
      for (const BlockSize size : kBlockSizes) {
        while (count_of(state, {k, size}) > 0) {
          State less = with(state, {k, size}, -1);
          if (less.worth < state.worth - kPays || !fits(less)) break;
          state = less;
        }
      }
    }
    return state;
  }

  [[nodiscard]] std::optional<State> exchanged(const State& state) const {
    for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k) {
      for (const BlockSize size : kBlockSizes) {
        const Block block{k, size};
        if (count_of(state, block) == 0) continue;
        // Whether this fits alone does not matter: only what has grown from it can be worth more.
        const State less = with(state, block, -1);
        for (const bool hopeful : {false, true}) {
          const State other = grown(less, {block, hopeful});
          if (other.worth > state.worth + kPays) return other;
        }
      }
    }
    return std::nullopt;
  }

  [[nodiscard]] State of(const Pack& pack) const {
    State state;
    state.u = owner.fixed_stimuli(segment);
    for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k) {
      for (const BlockSize size : kBlockSizes) {
        if (const int n = pack.kinds[k].of(size); n > 0) add(state, {k, size}, n);
      }
    }
    state.worth = owner.value(segment, prices, state.u);
    return state;
  }

  [[nodiscard]] bool allowed(const State& state) const {
    for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k) {
      if (!within_limits(state, {k, BlockSize::full})) return false;
    }
    return true;
  }

  // The best of the packs that won before, on whatever days, and fit these.
  [[nodiscard]] State start() const {
    State best = empty();
    if (!fits(best)) best.minutes = 0;
    for (const Pack& pack : owner.winners_) {
      State state = of(pack);
      if (state.worth > best.worth && allowed(state) && fits(state)) best = state;
    }
    return best;
  }

  [[nodiscard]] std::vector<Block> feeding(std::size_t event) const {
    std::vector<Block> out;
    for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k) {
      if (owner.transfer_[event][k] < kFeeds) continue;
      for (const BlockSize size : {BlockSize::full, BlockSize::shorter}) out.push_back({k, size});
    }
    return out;
  }

  // The week grown round these blocks, when that is better.
  void try_round(const std::vector<Block>& blocks, State& best) const {
    State state = empty();
    for (const Block& block : blocks) state = with(state, block, 1);
    for (const Block& block : blocks) {
      if (!within_limits(state, block)) return;
    }
    if (!fits(state)) return;
    state = grown(state, {{}, false});
    if (state.worth > best.worth + kPays) best = state;
  }

  // Short blocks pay most a minute, and fill a week before the long ones have their turn: so each
  // block is tried first once. One block alone may not reach an event's keep dose: those events are
  // tried with two.
  [[nodiscard]] State from_seeds(State best) const {
    const State before = best;
    for (std::size_t e = 0; e < owner.states_.size(); ++e) {
      if (segment.counted[e] == 0.0) continue;
      const bool unfed = owner.tables_.gain(e, before.u[e] / segment.share) <= 0.0;
      const std::vector<Block> blocks = feeding(e);
      for (std::size_t i = 0; i < blocks.size(); ++i) {
        try_round({blocks[i]}, best);
        for (std::size_t j = i; unfed && j < blocks.size(); ++j) try_round({blocks[i], blocks[j]}, best);
      }
    }
    return best;
  }

  [[nodiscard]] State run() const {
    const State from = start();
    State best = trimmed(grown(from, {{}, true}));
    const State plain = grown(from, {{}, false});
    if (plain.worth > best.worth) best = plain;
    if (auto& tried = owner.seeded_[segment.days]; tried < kSeedings) {
      ++tried;
      best = from_seeds(best);
    }
    while (auto better = exchanged(best)) best = *better;
    return trimmed(best);
  }
};

Column PackSearch::good(const Segment& segment, const Prices& prices) {
  if (segment.kept) return column_of(*segment.kept, segment, segment.most_minutes);
  const Climb climb{*this, segment, prices, memory_[segment.days], room_in(segment)};
  const Climb::State found = climb.run();
  Column column = column_of(found.pack, segment, found.minutes);
  remember(column.pack);
  return column;
}

}  // namespace backplan

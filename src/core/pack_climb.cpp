// A good pack, quickly: blocks are added while they pay, then one at a time is given up to see whether
// what takes its place pays more. No proof; the exact search starts from what is found here.
#include <algorithm>

#include "core/packs.hpp"

namespace backplan {
namespace {
constexpr double kPays = 1e-9;
constexpr int kQuickSteps = 200;         // of a placing: one that takes longer counts as impossible here
constexpr int kSizes = 3;                // full, short, home
constexpr std::size_t kEnoughKnown = 4;  // packs that won on these days before: starts enough
constexpr double kFeeds = 0.4;           // transfer from which a kind counts as work for an event
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
    int size = 0;
    friend bool operator==(const Block&, const Block&) = default;
  };
  struct Choice {
    double rate = 0.0;  // worth a minute
    State state;
  };
  struct Grow {
    std::optional<Block> but;  // never this one
    bool hopeful = false;      // counts what a block could bring with more to come: past a keep dose
  };

  [[nodiscard]] const BlockShape& shape_of(const Block& block) const {
    const WorkKind& kind = *owner.calendar_.kinds()[block.kind];
    return block.size == 0 ? kind.full : block.size == 1 ? kind.shorter : *kind.home;
  }
  [[nodiscard]] static int count_of(const State& state, const Block& block) {
    const KindCount& n = state.pack.kinds[block.kind];
    return block.size == 0 ? n.full : block.size == 1 ? n.shorter : n.home;
  }

  [[nodiscard]] State empty() const {
    State state;
    state.u = owner.fixed_stimuli(segment);
    state.worth = owner.value(segment, prices, state.u);
    return state;
  }

  [[nodiscard]] State with(const State& before, const Block& block, int sign) const {
    State after = before;
    const WorkKind& kind = *owner.calendar_.kinds()[block.kind];
    KindCount& n = after.pack.kinds[block.kind];
    const BlockShape& shape = shape_of(block);
    auto& count = block.size == 0 ? n.full : block.size == 1 ? n.shorter : n.home;
    count = static_cast<std::uint8_t>(count + sign);
    if (block.size == 2) {
      after.home += sign;
      after.home_minutes += sign * shape.minutes;
    } else {
      after.cost += sign * (shape.minutes + owner.calendar_.rules().change_over_minutes);
      after.blocks += sign;
      if (kind.hard) after.hard += sign;
    }
    for (std::size_t e = 0; e < owner.states_.size(); ++e)
      after.u[e] += sign * owner.transfer_[e][block.kind] * shape.stimulus;
    after.worth = owner.value(segment, prices, after.u);
    return after;
  }

  [[nodiscard]] bool within_limits(const State& state, const Block& block) const {
    const WorkKind& kind = *owner.calendar_.kinds()[block.kind];
    const KindCount& n = state.pack.kinds[block.kind];
    const int in_slots = n.full + n.shorter;
    const int with_done = in_slots > 0 ? in_slots + done_of(segment, block.kind) : 0;
    if (with_done > kind.most_a_week || in_slots + n.home > kMostOfAKind) return false;
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
      const double rate = state.u[e] / segment.share;
      sum += owner.transfer_[e][kind] * segment.counted[e] / segment.share *
             (prices.s[e] * owner.tables_.gain_chord(e, rate) +
              prices.loss[e] * owner.tables_.loss_chord(e, rate));
    }
    return sum;
  }

  [[nodiscard]] std::vector<Choice> choices(const State& state, const Grow& how) const {
    std::vector<Choice> out;
    for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k) {
      const double hoped = how.hopeful ? hope(state, k) : 0.0;
      for (int size = 0; size < kSizes; ++size) {
        const Block block{k, size};
        if (size == 2 && !owner.calendar_.kinds()[k]->home) continue;
        if (how.but && block == *how.but) continue;
        State more = with(state, block, 1);
        if (!within_limits(more, block)) continue;
        const double gain = how.hopeful ? hoped * shape_of(block).stimulus : more.worth - state.worth;
        if (gain <= kPays) continue;
        const int minutes = more.cost - state.cost + more.home_minutes - state.home_minutes;
        out.push_back({gain / minutes, more});
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
      for (Choice& choice : choices(state, how)) {
        if (!fits(choice.state)) continue;
        state = choice.state;
        more = true;
        break;
      }
    }
    return state;
  }

  // Without the blocks that bring nothing.
  [[nodiscard]] State trimmed(State state) const {
    for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k) {
      for (int size = 0; size < kSizes; ++size) {
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
      for (int size = 0; size < kSizes; ++size) {
        const Block block{k, size};
        if (count_of(state, block) == 0) continue;
        State less = with(state, block, -1);
        if (!fits(less)) continue;
        for (const bool hopeful : {false, true}) {
          const State other = grown(less, {block, hopeful});
          if (other.worth > state.worth + kPays) return other;
        }
      }
    }
    return std::nullopt;
  }

  [[nodiscard]] State of(const Pack& pack) const {
    State state = empty();
    for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k) {
      const KindCount& n = pack.kinds[k];
      for (int i = 0; i < n.full; ++i) state = with(state, {k, 0}, 1);
      for (int i = 0; i < n.shorter; ++i) state = with(state, {k, 1}, 1);
      for (int i = 0; i < n.home; ++i) state = with(state, {k, 2}, 1);
    }
    return state;
  }

  // The best of the packs that were best on these days before and fit now.
  [[nodiscard]] State start() const {
    State best = empty();
    if (!fits(best)) best.minutes = 0;
    for (const auto& [pack, minutes] : owner.winners_[segment.days]) {
      if (minutes > segment.most_minutes) continue;
      State state = of(pack);
      bool fine = true;
      for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k)
        fine = fine && within_limits(state, {k, 0});
      if (!fine || state.worth <= best.worth) continue;
      state.minutes = minutes;
      best = state;
    }
    return best;
  }

  [[nodiscard]] std::vector<Block> feeding(std::size_t event) const {
    std::vector<Block> out;
    for (std::size_t k = 0; k < owner.calendar_.kinds().size(); ++k) {
      if (owner.transfer_[event][k] < kFeeds) continue;
      for (int size = 0; size < kSizes - 1; ++size) out.push_back({k, size});
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
    if (owner.winners_[segment.days].size() < kEnoughKnown) best = from_seeds(best);
    while (auto better = exchanged(best)) best = *better;
    return trimmed(best);
  }
};

Column PackSearch::good(const Segment& segment, const Prices& prices) {
  if (segment.kept) return column_of(*segment.kept, segment, segment.most_minutes);
  const Climb climb{*this, segment, prices, memory_[segment.days], room_in(segment)};
  const Climb::State found = climb.run();
  Column column = column_of(found.pack, segment, found.minutes);
  remember(segment, column);
  return column;
}

}  // namespace backplan

// What a week can hold of a pack that was chosen for others too: the least valuable blocks go first.
#include <algorithm>
#include <limits>

#include "core/packs.hpp"

namespace backplan {
namespace {

constexpr int kTriedSteps = 300;  // of a placing that is only tried
constexpr double kLeastMinutes = 1.0;

int blocks_of(const KindCount& n) { return n.full + n.shorter; }

}  // namespace

// The packs with one block fewer or shorter.
std::vector<Pack> PackSearch::lighter_than(const Pack& pack) const {
  std::vector<Pack> out;
  for (std::size_t k = 0; k < options_.size(); ++k) {
    const auto add = [&](int full, int shorter, int home) {
      Pack less = pack;
      KindCount& n = less.kinds[k];
      n.full = static_cast<std::uint8_t>(n.full + full);
      n.shorter = static_cast<std::uint8_t>(n.shorter + shorter);
      n.home = static_cast<std::uint8_t>(n.home + home);
      out.push_back(less);
    };
    if (pack.kinds[k].full > 0) add(-1, 1, 0);
    if (pack.kinds[k].full > 0) add(-1, 0, 0);
    if (pack.kinds[k].shorter > 0) add(0, -1, 0);
    if (pack.kinds[k].home > 0) add(0, 0, -1);
  }
  return out;
}

// By how many blocks the pack is over the segment's limits on kinds and hard work.
int PackSearch::over_limits(const Pack& pack, const Segment& segment) const {
  int over = std::max(0, calendar_.hard_blocks(pack) - segment.most_hard);
  for (std::size_t k = 0; k < options_.size(); ++k) {
    const WorkKind& kind = *calendar_.kinds()[k];
    const int blocks = blocks_of(pack.kinds[k]);
    if (blocks == 0) continue;
    over += std::max(0, blocks + done_of(segment, k) - calendar_.most_a_week(k));
    if (kind.family == "intervals") over += std::max(0, blocks - segment.most_intervals);
  }
  return over;
}

int PackSearch::block_minutes_of(const Pack& pack) const {
  int minutes = 0;
  for (std::size_t k = 0; k < options_.size(); ++k) {
    const WorkKind& kind = *calendar_.kinds()[k];
    const KindCount& n = pack.kinds[k];
    minutes += n.full * kind.full.minutes + n.shorter * kind.shorter.minutes;
    if (kind.home) minutes += n.home * kind.home->minutes;
  }
  return minutes;
}

double PackSearch::worth_of(const Pack& pack, const Segment& segment, const Prices& prices) const {
  Stimuli u = fixed_stimuli(segment);
  for (std::size_t k = 0; k < options_.size(); ++k) {
    const WorkKind& kind = *calendar_.kinds()[k];
    const KindCount& n = pack.kinds[k];
    double stimulus = n.full * kind.full.stimulus + n.shorter * kind.shorter.stimulus;
    if (kind.home) stimulus += n.home * kind.home->stimulus;
    if (stimulus == 0.0) continue;
    for (std::size_t e = 0; e < states_.size(); ++e) u[e] += transfer_[e][k] * stimulus;
  }
  return value(segment, prices, u);
}

Column PackSearch::fitted(const Segment& segment, const Pack& wanted, const Prices& prices) {
  Memory& known = memory_[segment.days];
  Pack pack = wanted;
  for (;;) {
    const int over = over_limits(pack, segment);
    if (over == 0) {
      const Fit fit = placed(pack, segment, known, kPlacingSteps);
      if (fit.outcome == Placing::done) return column_of(pack, segment, fit.minutes);
    }
    if (pack == Pack{}) return column_of(pack, segment, 0);
    // What fits at once wins over what only helps; then the least loss, of what only helps a minute of it.
    const double worth_now = worth_of(pack, segment, prices);
    const Pack* best = nullptr;
    bool best_fits = false;
    double best_loss = std::numeric_limits<double>::infinity();
    const std::vector<Pack> lighter = lighter_than(pack);
    for (const Pack& less : lighter) {
      const int still_over = over_limits(less, segment);
      if (over > 0 && still_over >= over) continue;
      const bool fits = still_over == 0 && placed(less, segment, known, kTriedSteps).outcome == Placing::done;
      double loss = worth_now - worth_of(less, segment, prices);
      if (!fits && over == 0) {
        loss /= std::max(kLeastMinutes, static_cast<double>(block_minutes_of(pack) - block_minutes_of(less)));
      }
      if (best != nullptr && (best_fits != fits ? best_fits : loss >= best_loss)) continue;
      best = &less;
      best_fits = fits;
      best_loss = loss;
    }
    pack = best == nullptr ? Pack{} : *best;
  }
}

Column PackSearch::filled(const Segment& segment, const Column& from, const Prices& prices, int blocks) {
  Memory& known = memory_[segment.days];
  Column best = from;
  for (; blocks > 0; --blocks) {
    Pack next;
    int minutes = 0;
    const double now = worth_of(best.pack, segment, prices);
    double gain = 0.0;
    for (std::size_t k = 0; k < options_.size(); ++k) {
      const WorkKind& kind = *calendar_.kinds()[k];
      if (kind.hard) continue;
      for (const bool full : {true, false}) {
        Pack more = best.pack;
        KindCount& n = more.kinds[k];
        ++(full ? n.full : n.shorter);
        if (over_limits(more, segment) > 0 || n.full + n.shorter + n.home > kMostOfAKind) continue;
        const Fit fit = placed(more, segment, known, kTriedSteps);
        if (fit.outcome != Placing::done) continue;
        const double here = worth_of(more, segment, prices) - now;
        if (here <= gain) continue;
        gain = here;
        next = more;
        minutes = fit.minutes;
      }
    }
    if (gain <= 0.0) break;
    best = column_of(next, segment, minutes);
  }
  return best;
}

}  // namespace backplan

// Plates that do not reach for all bars: which lane gets what, so that few loads go down, and by little.
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "backplan/lanes.hpp"
#include "core/plate_pairs.hpp"

namespace backplan {
namespace {

// Of one bar's shares, and of the ways so far: more of them found nothing better (judgement).
constexpr std::size_t kMostSharesTried = 600, kMostSharesKept = 40, kMostWaysKept = 80;
constexpr double kPerPound = 100.0;  // loads are compared in hundredths of a pound

using Counts = std::vector<int>;  // pairs of each plate, in the order of the plates
// Loads that go down; by how much in all; and by how much of what each was.
using Cost = std::array<long long, 3>;

void add_to(Cost& sum, const Cost& more) {
  for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += more[i];
}

// Of one load that goes down by so much, in hundredths.
Cost cost_of_lowering(long long lost, long long load) {
  constexpr long long kShares = 10'000;
  if (lost <= 0) return {};
  return {1, lost, lost * kShares / std::max(1LL, load)};
}

long long in_hundredths(double pounds) { return std::llround(pounds * kPerPound); }

struct Share {
  Counts pairs;
  Cost cost{};
  long long weight = 0;  // of one side
};

// People with rising loads cut into bars from the heaviest down, with a share of the plates for each bar: the
// cheapest ways so far by how many are left, how many bars are used and which pairs are.
class Sharing {
 public:
  Sharing(const std::vector<Pounds>& rising, std::size_t bars, std::size_t most, const Equipment& equipment)
      : rising_(rising), bars_(bars), most_(most), bar_(equipment.bar_lb), ways_(rising.size() + 1) {
    for (const auto& [plate, count] : plate_pairs_of(equipment)) {
      if (plate <= 0.0 || count == 0) continue;
      plates_.push_back(in_hundredths(plate));
      pounds_.push_back(plate);
      have_.push_back(count);
    }
  }

  SharedBars run() {
    ways_.back().emplace(Key{0, have_}, Way{have_, {}, {}});
    for (std::size_t left = rising_.size(); left > 0; --left) {
      const std::vector<Way> ways = cheapest(left);
      for (std::size_t size = 1; size <= std::min(most_, left); ++size) add_bar(ways, left, size);
    }
    return written(cheapest(0).front());
  }

 private:
  struct Bar {
    std::size_t size = 0;
    Counts pairs;
  };
  struct Way {
    Counts left;
    Cost cost{};
    std::vector<Bar> bars;  // the heaviest first
  };
  using Key = std::pair<std::size_t, Counts>;

  [[nodiscard]] std::vector<Way> cheapest(std::size_t left) const {
    std::vector<Way> out;
    for (const auto& [key, way] : ways_[left]) out.push_back(way);
    std::stable_sort(out.begin(), out.end(), [](const Way& a, const Way& b) { return a.cost < b.cost; });
    if (out.size() > kMostWaysKept) out.resize(kMostWaysKept);
    return out;
  }

  // One bar more with the heaviest `size` of those who are left.
  void add_bar(const std::vector<Way>& ways, std::size_t left, std::size_t size) {
    const std::size_t rest = left - size;
    const std::vector<Share> shares = useful_shares(rest, size);
    for (const Way& way : ways) {
      const std::size_t used = way.bars.size() + 1;
      if (used > bars_ || rest > (bars_ - used) * most_) continue;
      for (const Share& share : shares) {
        if (!within(share.pairs, way.left)) continue;
        Way next = way;
        for (std::size_t p = 0; p < next.left.size(); ++p) next.left[p] -= share.pairs[p];
        add_to(next.cost, share.cost);
        next.bars.push_back({size, share.pairs});
        const auto [at, is_new] = ways_[rest].try_emplace(Key{used, next.left}, next);
        if (!is_new && next.cost < at->second.cost) at->second = std::move(next);
      }
    }
  }

  [[nodiscard]] long long side_of(Pounds load) const {
    return std::max(0LL, in_hundredths((load.value() - bar_) / 2.0));
  }

  // Every weight of one side that these pairs make, rising.
  [[nodiscard]] std::vector<long long> sums_of(const Counts& pairs) const {
    std::vector<long long> sums{0};
    for (std::size_t p = 0; p < pairs.size(); ++p) {
      const std::size_t before = sums.size();
      for (int n = 1; n <= pairs[p]; ++n) {
        for (std::size_t i = 0; i < before; ++i) sums.push_back(sums[i] + n * plates_[p]);
      }
      std::sort(sums.begin(), sums.end());
      sums.erase(std::unique(sums.begin(), sums.end()), sums.end());
    }
    return sums;
  }

  static long long most_of(const std::vector<long long>& sums, long long side) {
    return *std::prev(std::upper_bound(sums.begin(), sums.end(), side));
  }

  [[nodiscard]] Cost cost_of(const Counts& pairs, std::size_t from, std::size_t size) const {
    const auto sums = sums_of(pairs);
    Cost cost{};
    for (std::size_t i = from; i < from + size; ++i) {
      const long long lost = 2 * (side_of(rising_[i]) - most_of(sums, side_of(rising_[i])));
      add_to(cost, cost_of_lowering(lost, in_hundredths(rising_[i].value())));
    }
    return cost;
  }

  // Shares of which no pair can be spared without a higher cost, the cheapest first; the last has no pair.
  [[nodiscard]] std::vector<Share> useful_shares(std::size_t from, std::size_t size) const {
    const long long most = side_of(rising_[from + size - 1]);
    std::vector<Share> all{{Counts(plates_.size(), 0), {}, 0}};
    for (std::size_t p = plates_.size(); p-- > 0;) {
      const std::size_t before = all.size();
      for (std::size_t i = 0; i < before && all.size() < kMostSharesTried; ++i) {
        for (int n = 1; n <= have_[p] && n * plates_[p] <= most; ++n) {
          Share more = all[i];
          more.pairs[p] = n;
          more.weight += n * plates_[p];
          all.push_back(std::move(more));
        }
      }
    }
    for (Share& share : all) share.cost = cost_of(share.pairs, from, size);
    std::stable_sort(all.begin(), all.end(), [](const Share& a, const Share& b) {
      return std::pair(a.cost, a.weight) < std::pair(b.cost, b.weight);
    });
    std::vector<Share> useful;
    for (Share& share : all) {
      if (useful.size() >= kMostSharesKept && share.weight > 0) continue;
      const bool spares = std::any_of(useful.begin(), useful.end(),
                                      [&](const Share& less) { return within(less.pairs, share.pairs); });
      if (!spares) useful.push_back(std::move(share));
    }
    return useful;
  }

  static bool within(const Counts& less, const Counts& more) {
    for (std::size_t p = 0; p < less.size(); ++p) {
      if (less[p] > more[p]) return false;
    }
    return true;
  }

  [[nodiscard]] SharedBars written(const Way& way) const {
    SharedBars out;
    out.lowered = way.cost[0] > 0;
    std::size_t from = 0;
    for (auto bar = way.bars.rbegin(); bar != way.bars.rend(); ++bar) {
      out.sizes.push_back(bar->size);
      PlatePairs pairs;
      for (std::size_t p = 0; p < bar->pairs.size(); ++p) {
        if (bar->pairs[p] > 0) pairs[pounds_[p]] = bar->pairs[p];
      }
      out.plates.push_back(std::move(pairs));
      const auto sums = sums_of(bar->pairs);
      std::vector<Pounds> loads;
      for (; loads.size() < bar->size; ++from) {
        const long long side = most_of(sums, side_of(rising_[from]));
        const bool kept = side == side_of(rising_[from]);
        loads.push_back(kept ? rising_[from] : Pounds(bar_ + 2.0 * static_cast<double>(side) / kPerPound));
      }
      out.loads.push_back(std::move(loads));
    }
    return out;
  }

  const std::vector<Pounds>& rising_;
  std::size_t bars_, most_;
  double bar_;
  std::vector<long long> plates_;  // rising
  std::vector<double> pounds_;     // the same
  Counts have_;
  std::vector<std::map<Key, Way>> ways_;  // by how many are left
};

std::vector<std::vector<Pounds>> cut_by(const std::vector<Pounds>& rising,
                                        const std::vector<std::size_t>& sizes) {
  std::vector<std::vector<Pounds>> lanes;
  auto from = rising.begin();
  for (const std::size_t size : sizes) {
    lanes.emplace_back(from, from + static_cast<std::ptrdiff_t>(size));
    from += static_cast<std::ptrdiff_t>(size);
  }
  return lanes;
}

}  // namespace

std::optional<SharedBars> share_bars(const std::vector<Pounds>& rising, std::size_t bars, std::size_t most,
                                     const Equipment& equipment) {
  for (std::size_t lanes = bars; lanes > 0; --lanes) {
    const auto cut = cut_lanes(rising, lanes, most, equipment);
    if (!cut && lanes == bars) return std::nullopt;
    if (!cut) break;
    auto loads = cut_by(rising, cut->sizes);
    if (auto plates = deal_plates(loads, equipment))
      return SharedBars{cut->sizes, std::move(loads), *std::move(plates), false};
  }
  if (bars == 0 || rising.empty()) return std::nullopt;
  return Sharing(rising, bars, most, equipment).run();
}

}  // namespace backplan

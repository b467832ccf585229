// Plates that do not reach for all bars: which lane gets what, so that few loads go down, and by little.
#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "backplan/lanes.hpp"
#include "core/plate_pairs.hpp"

namespace backplan {
namespace {

// Of one lane's shares, and of the ways to have dealt so far: more of them found nothing better (judgement).
constexpr std::size_t kMostSharesTried = 1500, kMostWaysKept = 250;
constexpr double kPerPound = 100.0;  // loads are compared in hundredths of a pound

using Counts = std::vector<int>;  // pairs of each plate, in the order of the plates
using Cost = std::pair<int, long long>;  // loads that go down, and by how much in all

long long in_hundredths(double pounds) { return std::llround(pounds * kPerPound); }

struct Share {
  Counts pairs;
  Cost cost;
  long long weight = 0;  // of one side
};

class Sharing {
 public:
  Sharing(const std::vector<std::vector<Pounds>>& lanes, const Equipment& equipment)
      : lanes_(lanes), bar_(equipment.bar_lb) {
    for (const auto& [plate, count] : plate_pairs_of(equipment)) {
      if (plate <= 0.0 || count == 0) continue;
      plates_.push_back(in_hundredths(plate));
      pounds_.push_back(plate);
      have_.push_back(count);
    }
  }

  DealtLanes run() {
    std::vector<std::size_t> order;
    for (std::size_t l = 0; l < lanes_.size(); ++l) order.push_back(l);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return sides_of(a).back() > sides_of(b).back(); });
    std::vector<Way> ways{{have_, {0, 0}, {}}};
    for (const std::size_t lane : order) ways = with_lane(ways, useful_shares(lane));
    const Way& best = ways.front();
    DealtLanes out;
    out.loads.resize(lanes_.size());
    out.plates.resize(lanes_.size());
    out.lowered = best.cost.first > 0;
    for (std::size_t i = 0; i < order.size(); ++i) write(order[i], best.given[i], out);
    return out;
  }

 private:
  struct Way {
    Counts left;
    Cost cost;
    std::vector<Counts> given;  // to each lane so far
  };

  // What the loads of a lane are for one side, rising.
  [[nodiscard]] std::vector<long long> sides_of(std::size_t lane) const {
    std::vector<long long> sides{0};
    for (const Pounds load : lanes_[lane]) sides.push_back(side_of(load));
    std::sort(sides.begin() + 1, sides.end());
    return sides;
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

  [[nodiscard]] Cost cost_of(const Counts& pairs, std::size_t lane) const {
    const auto sums = sums_of(pairs);
    Cost cost{0, 0};
    for (const Pounds load : lanes_[lane]) {
      const long long lost = side_of(load) - most_of(sums, side_of(load));
      cost.first += lost > 0 ? 1 : 0;
      cost.second += 2 * lost;
    }
    return cost;
  }

  // Shares of which no pair can be spared without a higher cost, the cheapest first.
  [[nodiscard]] std::vector<Share> useful_shares(std::size_t lane) const {
    const long long most = sides_of(lane).back();
    std::vector<Share> all{{Counts(plates_.size(), 0), {}, 0}};
    for (std::size_t p = 0; p < plates_.size(); ++p) {
      const std::size_t before = all.size();
      for (std::size_t i = 0; i < before && all.size() < kMostSharesTried; ++i) {
        for (int n = 1; n <= have_[p] && all[i].weight + n * plates_[p] <= most; ++n) {
          Share more = all[i];
          more.pairs[p] = n;
          more.weight += n * plates_[p];
          all.push_back(std::move(more));
        }
      }
    }
    for (Share& share : all) share.cost = cost_of(share.pairs, lane);
    std::stable_sort(all.begin(), all.end(), [](const Share& a, const Share& b) {
      return std::pair(a.cost, a.weight) < std::pair(b.cost, b.weight);
    });
    std::vector<Share> useful;
    for (Share& share : all) {
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

  static std::vector<Way> with_lane(const std::vector<Way>& ways, const std::vector<Share>& shares) {
    std::map<Counts, Way> best;  // by what is left
    for (const Way& way : ways) {
      for (const Share& share : shares) {
        if (!within(share.pairs, way.left)) continue;
        Way next = way;
        for (std::size_t p = 0; p < next.left.size(); ++p) next.left[p] -= share.pairs[p];
        next.cost.first += share.cost.first;
        next.cost.second += share.cost.second;
        next.given.push_back(share.pairs);
        const auto [at, is_new] = best.try_emplace(next.left, next);
        if (!is_new && next.cost < at->second.cost) at->second = std::move(next);
      }
    }
    std::vector<Way> out;
    for (auto& [left, way] : best) out.push_back(std::move(way));
    std::stable_sort(out.begin(), out.end(), [](const Way& a, const Way& b) { return a.cost < b.cost; });
    if (out.size() > kMostWaysKept) out.resize(kMostWaysKept);
    return out;
  }

  void write(std::size_t lane, const Counts& given, DealtLanes& out) const {
    for (std::size_t p = 0; p < given.size(); ++p) {
      if (given[p] > 0) out.plates[lane][pounds_[p]] = given[p];
    }
    const auto sums = sums_of(given);
    for (const Pounds load : lanes_[lane]) {
      const long long side = most_of(sums, side_of(load));
      const bool kept = side == side_of(load);
      out.loads[lane].push_back(kept ? load : Pounds(bar_ + 2.0 * static_cast<double>(side) / kPerPound));
    }
  }

  const std::vector<std::vector<Pounds>>& lanes_;
  double bar_;
  std::vector<long long> plates_;  // rising
  std::vector<double> pounds_;     // the same
  Counts have_;
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

Cost lowering(const std::vector<std::vector<Pounds>>& asked, const DealtLanes& dealt) {
  Cost cost{0, 0};
  for (std::size_t l = 0; l < asked.size(); ++l) {
    for (std::size_t i = 0; i < asked[l].size(); ++i) {
      const long long lost = in_hundredths((asked[l][i] - dealt.loads[l][i]).value());
      cost.first += lost > 0 ? 1 : 0;
      cost.second += lost;
    }
  }
  return cost;
}

}  // namespace

DealtLanes deal_or_lower(const std::vector<std::vector<Pounds>>& lanes, const Equipment& equipment) {
  if (auto plates = deal_plates(lanes, equipment)) return {lanes, *std::move(plates), false};
  return Sharing(lanes, equipment).run();
}

std::optional<SharedBars> share_bars(const std::vector<Pounds>& rising, std::size_t bars, std::size_t most,
                                     const Equipment& equipment) {
  std::optional<SharedBars> best;
  Cost least;
  for (std::size_t lanes = bars; lanes > 0; --lanes) {
    const auto cut = cut_lanes(rising, lanes, most, equipment);
    if (!cut) break;
    if (best && cut->sizes == best->sizes) continue;
    const auto asked = cut_by(rising, cut->sizes);
    DealtLanes dealt = deal_or_lower(asked, equipment);
    const Cost cost = lowering(asked, dealt);
    if (best && cost >= least) continue;
    least = cost;
    best = SharedBars{cut->sizes, std::move(dealt)};
    if (cost.first == 0) break;
  }
  return best;
}

}  // namespace backplan

#include "backplan/lanes.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "backplan/prescription.hpp"
#include "core/bar_loading.hpp"
#include "core/plate_pairs.hpp"

namespace backplan {
namespace {

constexpr int kMostDeals = 20'000;  // tries of one deal; beyond them the plates count as too few

bool makes_all(const std::vector<Pounds>& loads, const Equipment& equipment) {
  return std::all_of(loads.begin(), loads.end(),
                     [&](Pounds load) { return plates_a_side(load, equipment).has_value(); });
}

// Pairs that change between loads; what each load is made of is worked out once.
class Moves {
 public:
  explicit Moves(const Equipment& equipment) : equipment_(equipment) {}

  int between(Pounds from, Pounds to) {
    PlatePairs change = side(to);
    for (const auto& [plate, count] : side(from)) change[plate] -= count;
    int moves = 0;
    for (const auto& [plate, count] : change) moves += std::abs(count);
    return moves;
  }

 private:
  const PlatePairs& side(Pounds load) {
    const auto found = known_.find(load.value());
    if (found != known_.end()) return found->second;
    return known_
        .emplace(load.value(), counted(plates_a_side(load, equipment_).value_or(std::vector<double>{})))
        .first->second;
  }

  const Equipment& equipment_;
  std::map<double, PlatePairs> known_;
};

// Deals pairs lane by lane; each lane tries the smallest shares of what is left that make its loads.
class Deal {
 public:
  Deal(const std::vector<std::vector<Pounds>>& lanes, const Equipment& equipment)
      : lanes_(lanes), equipment_(equipment), left_(plate_pairs_of(equipment)), dealt_(lanes.size()) {
    for (std::size_t i = 0; i < lanes.size(); ++i) order_.push_back(i);
    // The heaviest lanes have the fewest ways.
    std::stable_sort(order_.begin(), order_.end(),
                     [&](std::size_t a, std::size_t b) { return heaviest(lanes_[a]) > heaviest(lanes_[b]); });
  }

  std::optional<std::vector<PlatePairs>> run() {
    if (deal_plainly()) return dealt_;
    left_ = plate_pairs_of(equipment_);
    if (deal_from(0)) return dealt_;
    return std::nullopt;
  }

 private:
  // Each lane gets what its loads are usually made of. Mostly that does.
  bool deal_plainly() {
    for (const std::size_t lane : order_) {
      const Equipment now = with_pairs(equipment_, left_);
      PlatePairs share;
      for (const Pounds load : lanes_[lane]) {
        const auto side = plates_a_side(load, now);
        if (!side) return false;
        for (const auto& [plate, count] : counted(*side)) share[plate] = std::max(share[plate], count);
      }
      for (const auto& [plate, count] : share) left_[plate] -= count;
      dealt_[lane] = std::move(share);
    }
    return true;
  }

  static Pounds heaviest(const std::vector<Pounds>& loads) {
    return loads.empty() ? Pounds(0.0) : *std::max_element(loads.begin(), loads.end());
  }

  bool deal_from(std::size_t at) {
    if (at == order_.size()) return true;
    for (const PlatePairs& share : shares_for(lanes_[order_[at]])) {
      if (++tries_ > kMostDeals) return false;
      for (const auto& [plate, count] : share) left_[plate] -= count;
      dealt_[order_[at]] = share;
      if (deal_from(at + 1)) return true;
      for (const auto& [plate, count] : share) left_[plate] += count;
    }
    return false;
  }

  // Every share of what is left, the lightest first, of which no pair can be spared.
  std::vector<PlatePairs> shares_for(const std::vector<Pounds>& loads) {
    std::vector<PlatePairs> shares;
    if (loads.empty()) return {PlatePairs{}};
    const double most = (heaviest(loads).value() - equipment_.bar_lb) / 2.0;
    std::vector<PlatePairs> all{PlatePairs{}};
    for (const auto& [plate, count] : left_) {
      const int useful = std::min(count, static_cast<int>(most / plate + 1e-9));
      const std::size_t before = all.size();
      for (std::size_t i = 0; i < before && all.size() < kMostShares; ++i) {
        for (int n = 1; n <= useful; ++n) {
          PlatePairs more = all[i];
          more[plate] = n;
          all.push_back(std::move(more));
        }
      }
    }
    const auto weight = [](const PlatePairs& pairs) {
      double sum = 0.0;
      for (const auto& [plate, count] : pairs) sum += plate * count;
      return sum;
    };
    std::stable_sort(all.begin(), all.end(),
                     [&](const PlatePairs& a, const PlatePairs& b) { return weight(a) < weight(b); });
    for (const PlatePairs& share : all) {
      if (weight(share) + 1e-9 < most || !makes_all(loads, with_pairs(equipment_, share))) continue;
      const bool spares = std::any_of(shares.begin(), shares.end(), [&](const PlatePairs& less) {
        return std::all_of(less.begin(), less.end(), [&](const auto& pair) {
          const auto found = share.find(pair.first);
          return found != share.end() && found->second >= pair.second;
        });
      });
      if (!spares) shares.push_back(share);
    }
    return shares;
  }

  static constexpr std::size_t kMostShares = 4000;
  const std::vector<std::vector<Pounds>>& lanes_;
  const Equipment& equipment_;
  PlatePairs left_;
  std::vector<PlatePairs> dealt_;
  std::vector<std::size_t> order_;
  int tries_ = 0;
};

// The fewest moves of the lightest so many people in so many lanes, by the last lane's size.
class LaneCutter {
 public:
  LaneCutter(const std::vector<Pounds>& rising, std::size_t lanes, std::size_t most,
             const Equipment& equipment)
      : rising_(rising),
        most_(most),
        moves_(equipment),
        up_(rising.size(), 0),
        best_(lanes + 1, std::vector<Best>(rising.size() + 1)) {
    for (auto& row : best_) row[0] = {0, 0, 0};
    for (std::size_t i = 0; i + 1 < rising.size(); ++i) up_[i] = moves_.between(rising[i], rising[i + 1]);
    for (std::size_t l = 1; l <= lanes; ++l) {
      for (std::size_t end = 1; end <= rising.size(); ++end) fill(l, end);
    }
  }

  [[nodiscard]] LaneCut cut() const {
    LaneCut out;
    std::size_t end = rising_.size();
    out.moves = best_.back()[end].moves;
    for (std::size_t l = best_.size() - 1; l > 0 && end > 0; --l) {
      const std::size_t size = best_[l][end].size;
      if (size > 0) out.sizes.insert(out.sizes.begin(), size);
      end -= size;
    }
    return out;
  }

 private:
  static constexpr int kImpossible = std::numeric_limits<int>::max();
  // Fewest moves first; between equal ones the smaller sum of squares is the more even cut.
  struct Best {
    int moves = kImpossible;
    std::size_t squares = 0, size = 0;
    [[nodiscard]] bool better_than(const Best& other) const {
      return moves != other.moves ? moves < other.moves : squares < other.squares;
    }
  };

  void fill(std::size_t lanes, std::size_t end) {
    Best& best = best_[lanes][end];
    best = best_[lanes - 1][end];  // with an empty lane more
    best.size = 0;
    for (std::size_t size = 1; size <= std::min(most_, end); ++size) {
      const Best& before = best_[lanes - 1][end - size];
      if (before.moves == kImpossible) continue;
      const Best here{before.moves + round(end, size), before.squares + size * size, size};
      if (here.better_than(best)) best = here;
    }
  }

  // Moves of one round of the lane that ends before `end`.
  int round(std::size_t end, std::size_t size) {
    int sum = moves_.between(rising_[end - 1], rising_[end - size]);
    for (std::size_t i = end - size; i + 1 < end; ++i) sum += up_[i];
    return sum;
  }

  const std::vector<Pounds>& rising_;
  std::size_t most_;
  Moves moves_;
  std::vector<int> up_;  // from each load to the next
  std::vector<std::vector<Best>> best_;
};

}  // namespace

int plate_moves(Pounds from, Pounds to, const Equipment& equipment) {
  return Moves(equipment).between(from, to);
}

int round_moves(const std::vector<Pounds>& rising, const Equipment& equipment) {
  Moves moves(equipment);
  int sum = rising.empty() ? 0 : moves.between(rising.back(), rising.front());
  for (std::size_t i = 0; i + 1 < rising.size(); ++i) sum += moves.between(rising[i], rising[i + 1]);
  return sum;
}

std::optional<LaneCut> cut_lanes(const std::vector<Pounds>& rising, std::size_t lanes, std::size_t most,
                                 const Equipment& equipment) {
  if (rising.size() > lanes * most) return std::nullopt;
  return LaneCutter(rising, lanes, most, equipment).cut();
}

std::optional<std::vector<PlatePairs>> deal_plates(const std::vector<std::vector<Pounds>>& lanes,
                                                   const Equipment& equipment) {
  return Deal(lanes, equipment).run();
}

}  // namespace backplan

#include "backplan/patterns.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "core/pattern_assignment.hpp"

namespace backplan {
namespace {

constexpr double kMostSubsets = 400'000.0;        // that are counted out
constexpr double kMostCountings = 400'000'000.0;  // steps of the exact assignments together
constexpr int kPriceRounds = 200;                 // of the prices on people
constexpr double kSameValue = 1e-12;
constexpr double kTooFull = 1e6;

double subsets_of(std::size_t patterns, std::size_t k) {
  double count = 1.0;
  for (std::size_t i = 0; i < k; ++i) count *= static_cast<double>(patterns - i) / static_cast<double>(i + 1);
  return count;
}

// Exact for the subsets of k patterns: bounded first, the most hopeful assigned first.
class Counting {
 public:
  Counting(const ChoiceProblem& problem, std::size_t k, const LanePrices& prices)
      : problem_(problem), k_(k), prices_(prices) {}

  Choice run() {
    std::vector<std::vector<double>> plain(k_ + 1, std::vector<double>(problem_.people, -1e300));
    std::vector<std::vector<double>> priced = plain;
    std::vector<std::size_t> chosen;
    list(0, chosen, plain, priced);
    std::sort(subsets_.begin(), subsets_.end(), [](const Subset& a, const Subset& b) {
      return a.bound != b.bound ? a.bound > b.bound : a.patterns < b.patterns;
    });
    Choice best;
    best.value = -std::numeric_limits<double>::infinity();
    best.bound = best.value;
    double steps = 0.0;
    for (const Subset& subset : subsets_) {
      if (subset.bound <= best.value + kSameValue) break;
      steps += steps_of_assignment(problem_, k_);
      if (steps > kMostCountings && best.possible) {
        best.bound = subset.bound;
        break;
      }
      const Assignment found = assign_exactly(problem_, subset.patterns);
      if (!found.possible || found.value <= best.value + kSameValue) continue;
      best.possible = true;
      best.value = found.value;
      best.pattern_of = found.pattern_of;
    }
    best.bound = std::max(best.bound, best.value);
    return best;
  }

 private:
  struct Subset {
    double bound = 0.0;
    std::vector<std::size_t> patterns;
  };

  void list(std::size_t from, std::vector<std::size_t>& chosen, std::vector<std::vector<double>>& plain,
            std::vector<std::vector<double>>& priced) {
    const std::size_t depth = chosen.size();
    if (depth == k_) {
      const double free = std::accumulate(plain[depth].begin(), plain[depth].end(), 0.0);
      const double paid = std::accumulate(priced[depth].begin(), priced[depth].end(), prices_.of_capacity);
      subsets_.push_back({std::min(free, paid), chosen});
      return;
    }
    for (std::size_t p = from; p + (k_ - depth) <= problem_.patterns; ++p) {
      for (std::size_t i = 0; i < problem_.people; ++i) {
        const double value = problem_.value_of(i, p);
        plain[depth + 1][i] = std::max(plain[depth][i], value);
        priced[depth + 1][i] = std::max(priced[depth][i], value - prices_.of_use(problem_, i, p));
      }
      chosen.push_back(p);
      list(p + 1, chosen, plain, priced);
      chosen.pop_back();
    }
  }

  const ChoiceProblem& problem_;
  std::size_t k_;
  const LanePrices& prices_;
  std::vector<Subset> subsets_;
};

// Patterns are exchanged one for one while that pays; the bound relaxes "one pattern each" by a price on
// every person, and the lanes by theirs: the k best patterns at those prices bound every choice.
class LaneExchange {
 public:
  LaneExchange(const ChoiceProblem& problem, std::size_t k, const LanePrices& prices)
      : problem_(problem), k_(k), prices_(prices) {
    for (std::size_t i = 0; i < problem.people; ++i) {
      for (std::size_t p = 0; p < problem.patterns; ++p)
        priced_.push_back(problem.value_of(i, p) - prices.of_use(problem, i, p));
    }
  }

  Choice run() {
    std::vector<std::size_t> chosen = grown();
    while (exchange_one(chosen, [this](const auto& tried) { return worth(tried); })) {
    }
    // At the prices the lanes may still be too full: the same exchange by what can really be assigned.
    while (exchange_one(chosen, [this](const auto& tried) { return assigned_worth(tried); })) {
    }
    std::sort(chosen.begin(), chosen.end());
    Choice out;
    const Assignment found = assign_nearly(problem_, chosen, prices_);
    out.possible = found.possible;
    out.pattern_of = found.pattern_of;
    out.value = found.value;
    out.bound = std::max(found.value, bound(found));
    return out;
  }

 private:
  [[nodiscard]] double priced(std::size_t i, std::size_t p) const {
    return priced_[i * problem_.patterns + p];
  }

  [[nodiscard]] double worth(const std::vector<std::size_t>& chosen) const {
    double sum = prices_.of_capacity;
    for (std::size_t i = 0; i < problem_.people; ++i) {
      double best = -1e300;
      for (const std::size_t p : chosen) best = std::max(best, priced(i, p));
      sum += best;
    }
    return sum;
  }

  [[nodiscard]] std::vector<std::size_t> grown() const {
    std::vector<std::size_t> chosen;
    while (chosen.size() < k_) {
      std::size_t best = problem_.patterns;
      double best_worth = 0.0;
      for (std::size_t p = 0; p < problem_.patterns; ++p) {
        if (std::find(chosen.begin(), chosen.end(), p) != chosen.end()) continue;
        chosen.push_back(p);
        const double here = worth(chosen);
        chosen.pop_back();
        if (best < problem_.patterns && here <= best_worth) continue;
        best = p;
        best_worth = here;
      }
      chosen.push_back(best);
    }
    return chosen;
  }

  // People too many on a lane count more than anything that they could gain.
  [[nodiscard]] double assigned_worth(const std::vector<std::size_t>& chosen) const {
    const Assignment found = assign_nearly(problem_, chosen, prices_);
    return found.value - (found.possible ? 0.0 : kTooFull * (1.0 + found.over));
  }

  template <class Worth>
  bool exchange_one(std::vector<std::size_t>& chosen, const Worth& worth) const {
    const double now = worth(chosen);
    for (std::size_t& out : chosen) {
      const std::size_t old = out;
      for (std::size_t p = 0; p < problem_.patterns; ++p) {
        if (std::find(chosen.begin(), chosen.end(), p) != chosen.end()) continue;
        out = p;
        if (worth(chosen) > now + 1e-9) return true;
        out = old;
      }
    }
    return false;
  }

  [[nodiscard]] double bound(const Assignment& found) const {
    std::vector<double> price(problem_.people, 0.0);  // of each person, to start with: what they have now
    for (std::size_t i = 0; i < problem_.people; ++i) {
      double best = -1e300;
      for (std::size_t p = 0; p < problem_.patterns; ++p) best = std::max(best, priced(i, p));
      price[i] = found.possible ? priced(i, found.pattern_of[i]) : best;
    }
    double least = std::numeric_limits<double>::infinity();
    double step = 1.0;
    for (int round = 0; round < kPriceRounds; ++round) {
      std::vector<std::pair<double, std::size_t>> worths;
      for (std::size_t p = 0; p < problem_.patterns; ++p) {
        double sum = 0.0;
        for (std::size_t i = 0; i < problem_.people; ++i) sum += std::max(0.0, priced(i, p) - price[i]);
        worths.emplace_back(sum, p);
      }
      std::sort(worths.begin(), worths.end(), [](const auto& a, const auto& b) {
        return a.first != b.first ? a.first > b.first : a.second < b.second;
      });
      double value = prices_.of_capacity + std::accumulate(price.begin(), price.end(), 0.0);
      for (std::size_t j = 0; j < k_; ++j) value += worths[j].first;
      if (value < least - kSameValue) {
        least = value;
      } else {
        step *= 0.93;  // no better: shorter steps from here on (judgement)
      }
      std::vector<double> slope(problem_.people, 1.0);
      double square = 0.0;
      for (std::size_t i = 0; i < problem_.people; ++i) {
        for (std::size_t j = 0; j < k_; ++j) slope[i] -= priced(i, worths[j].second) > price[i] ? 1.0 : 0.0;
        square += slope[i] * slope[i];
      }
      if (square == 0.0) break;
      const double target = found.possible ? found.value : value - 1.0;
      const double length = step * std::max(value - target, 0.0) / square;
      for (std::size_t i = 0; i < problem_.people; ++i) price[i] -= length * slope[i];
    }
    return least;
  }

  const ChoiceProblem& problem_;
  std::size_t k_;
  const LanePrices& prices_;
  std::vector<double> priced_;
};

}  // namespace

Choice choose_patterns(const ChoiceProblem& problem) {
  if (problem.people == 0 || problem.patterns == 0) return {};
  const std::size_t k = std::min(
      {static_cast<std::size_t>(std::max(1, problem.most_patterns)), problem.patterns, problem.people});
  const LanePrices prices = lane_prices(problem);
  const bool few = subsets_of(problem.patterns, k) <= kMostSubsets &&
                   steps_of_assignment(problem, k) <= kMostCountings / 100.0;
  return few ? Counting(problem, k, prices).run() : LaneExchange(problem, k, prices).run();
}

}  // namespace backplan

// The two tries of a lift as a decision in two steps. docs/mathematics.md, "Test day".
#include <algorithm>
#include <cmath>

#include "backplan/numeric.hpp"
#include "backplan/test_day.hpp"

namespace backplan {
namespace {

// Nodes of the ability of the morning: the sum over them is exact to many digits, since neither the spread of
// a try nor that of the morning is narrower than a few steps.
constexpr double kReach = 6.0;           // standard deviations
constexpr double kNodesPerSpread = 8.0;  // of the narrower of the two spreads
constexpr int kFewestNodes = 97, kMostNodes = 4001;
constexpr double kNarrowest = 1e-4;  // of a spread, in v
constexpr std::size_t kAround = 2;   // first loads shown on each side of the best
constexpr double kSame = 1e-9;       // points: a heavier load must earn more than this more

struct Node {
  double ability = 0.0;
  double weight = 0.0;
};

std::vector<Node> nodes_of(const DaySpread& spread, double between) {
  // The morning's share of the whole spread, which a single try is part of.
  const double day = std::sqrt(std::max(kNarrowest * kNarrowest, spread.sd * spread.sd - between * between));
  const double step = std::min(day, std::max(between, kNarrowest)) / kNodesPerSpread;
  const int half = static_cast<int>(std::ceil(kReach * day / step));
  const int count = std::clamp(2 * half + 1, kFewestNodes, kMostNodes);
  std::vector<Node> nodes;
  double sum = 0.0;
  for (int i = 0; i < count; ++i) {
    const double z = kReach * (2.0 * i / (count - 1) - 1.0);
    nodes.push_back({spread.mean + z * day, numeric::normal_pdf(z)});
    sum += nodes.back().weight;
  }
  for (Node& node : nodes) node.weight /= sum;
  return nodes;
}

struct Load {
  double result = 0.0;
  double points = 0.0;
};

// The loads that earn something: from the lowest row to the highest.
std::vector<Load> loads_of(const Scale& scale) {
  std::vector<Load> loads;
  const double step = scale.resolution();
  const double most = scale.rows().back().result;
  for (int i = 0;; ++i) {
    const double load = scale.rows().front().result + i * step;
    if (load > most + 0.5 * step) break;
    if (const auto points = scale.score(load).points) loads.push_back({load, points->value()});
  }
  return loads;
}

class Decision {
 public:
  Decision(const Scale& scale, const DaySpread& spread, const TriesModel& model)
      : loads_(loads_of(scale)), model_(model), nodes_(nodes_of(spread, model.between)) {}

  // Best second tries for a first load, and what all that is worth.
  [[nodiscard]] TryChoice choice(std::size_t first) const {
    TryChoice out;
    out.first = loads_[first].result;
    std::vector<double> good = chances(first, 0.0);
    std::vector<double> failed = good;
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      good[i] *= nodes_[i].weight;
      failed[i] = nodes_[i].weight - good[i];
      out.p_first += good[i];
      out.p_nothing += failed[i];
    }
    out.expected_points = out.p_first * loads_[first].points;
    if (model_.most < 2) return out;
    add_after_good(first, good, out);
    add_after_failed(first, failed, out);
    return out;
  }

  [[nodiscard]] std::size_t size() const { return loads_.size(); }

 private:
  // P(good) at each node.
  [[nodiscard]] std::vector<double> chances(std::size_t load, double tired) const {
    const double spread = std::max(model_.between, kNarrowest);
    const double v = numeric::log(loads_[load].result);
    std::vector<double> p;
    for (const Node& node : nodes_) p.push_back(numeric::normal_cdf((node.ability - tired - v) / spread));
    return p;
  }

  [[nodiscard]] double p_good(std::size_t load, double tired, const std::vector<double>& weights) const {
    const std::vector<double> p = chances(load, tired);
    double sum = 0.0;
    for (std::size_t i = 0; i < p.size(); ++i) sum += weights[i] * p[i];
    return sum;
  }

  void add_after_good(std::size_t first, const std::vector<double>& weights, TryChoice& out) const {
    double best = kSame;
    for (std::size_t next = first + 1; next < loads_.size(); ++next) {
      const double more = loads_[next].points - loads_[first].points;
      if (more <= 0.0) continue;
      const double worth = more * p_good(next, model_.tired_after_good, weights);
      if (worth <= best + kSame) continue;
      best = worth;
      out.after_good = loads_[next].result;
    }
    if (out.after_good) out.expected_points += best;
  }

  void add_after_failed(std::size_t first, const std::vector<double>& weights, TryChoice& out) const {
    double best = 0.0;
    double p_best = 0.0;
    for (std::size_t next = 0; next < first; ++next) {
      const double p = p_good(next, model_.tired_after_failed, weights);
      if (loads_[next].points * p <= best + kSame) continue;
      best = loads_[next].points * p;
      p_best = p;
      out.after_failed = loads_[next].result;
    }
    out.expected_points += best;
    out.p_nothing -= p_best;
  }

  std::vector<Load> loads_;
  TriesModel model_;
  std::vector<Node> nodes_;
};

}  // namespace

TryPlan choose_tries(const Scale& scale, const DaySpread& spread, const TriesModel& model) {
  const Decision decision(scale, spread, model);
  std::vector<TryChoice> all;
  std::size_t best = 0;
  for (std::size_t i = 0; i < decision.size(); ++i) {
    all.push_back(decision.choice(i));
    const bool more = all[i].expected_points > all[best].expected_points + kSame;
    // Of two that earn the same the heavier, if it is as sure: one try less.
    const bool same = all[i].expected_points >= all[best].expected_points - kSame &&
                      all[i].p_first >= all[best].p_first - kSame;
    if (more || same) best = i;
  }
  TryPlan out;
  out.best = all[best];
  const std::size_t from = best > kAround ? best - kAround : 0;
  for (std::size_t i = from; i < all.size() && i <= best + kAround; ++i) out.near.push_back(all[i]);
  return out;
}

}  // namespace backplan

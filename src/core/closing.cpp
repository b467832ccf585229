#include "core/closing.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <utility>

#include "core/column_counts.hpp"
#include "core/dual.hpp"

namespace backplan {
namespace {

constexpr int kNodeSteps = 60;   // of the descent at a node
constexpr int kRemembered = 25;  // steps over which means are taken
constexpr double kCountRounding = 1e-12;
constexpr double kWhole = 0.02;         // counts nearer to a whole number than this are whole
constexpr double kBetterSeason = 1e-7;  // of a better season
constexpr double kFlat = 1e-12;         // of the subgradient's square
constexpr double kLeastAim = 1e-4;      // of the descent under the dual
constexpr double kLeastPart = 0.2;      // of a box on either side of a cut
constexpr double kInfinity = std::numeric_limits<double>::infinity();

// What the descent leaves behind for the choice of the next cut: means over its steps.
struct Means {
  std::vector<std::pair<std::size_t, double>> counts;  // by column; those that are not nothing, in order
  std::vector<double> star_s, star_loss, f;            // by event
  int steps = 0;

  [[nodiscard]] double count_of(std::size_t column) const {
    const auto found = std::lower_bound(counts.begin(), counts.end(), std::pair(column, -kInfinity));
    return found == counts.end() || found->first != column ? 0.0 : found->second;
  }
};

// Thousands of these are open at a time, each with a place for every one of thousands of columns.
using Weeks = std::int16_t;

struct CountBox {
  std::vector<double> low, high;   // of S, then of L, by event
  std::vector<Weeks> least, most;  // weeks that take each column
  Prices prices;
  double bound = kInfinity;
  Means means;
};

// F of one event where its best points can lie: at the nodes inside a box and on the box's edges, since
// F less a plane is bilinear in between.
struct Corners {
  std::vector<double> s, loss;
  std::vector<double> f;  // s x loss
};

class Closer {
 public:
  Closer(const std::vector<EventValue>& values, const std::vector<ClosingGroup>& groups, double value,
         double gap)
      : values_(values),
        groups_(groups),
        counts_(values, groups),
        columns_(counts_.columns()),
        first_(counts_.first()),
        events_(values.size()),
        gap_(gap),
        value_(value) {
    worth_.assign(columns_.size(), 0.0);
    free_.assign(columns_.size(), 0);
  }

  ClosingResult run(const ClosingBox& box, int nodes) {
    CountBox root{{}, {}, std::vector<Weeks>(columns_.size(), 0), {}, box.prices, kInfinity, {}};
    for (std::size_t e = 0; e < events_; ++e) {
      root.low.push_back(values_[e].s_of(box.low[e]));
      root.high.push_back(values_[e].s_of(box.high[e]));
    }
    for (std::size_t e = 0; e < events_; ++e) {
      root.low.push_back(values_[e].loss_of(box.low[events_ + e]));
      root.high.push_back(values_[e].loss_of(box.high[events_ + e]));
    }
    for (std::size_t g = 0; g < groups_.size(); ++g)
      root.most.insert(root.most.end(), groups_[g].columns.size(), static_cast<Weeks>(groups_[g].weeks));
    double closed = -kInfinity;
    std::vector<CountBox> open;
    add(std::move(root), open);
    for (left_ = nodes; left_ > 0 && !open.empty(); --left_) {
      const auto worst = std::max_element(
          open.begin(), open.end(), [](const CountBox& a, const CountBox& b) { return a.bound < b.bound; });
      if (worst->bound <= value_ + gap_) break;
      CountBox node = std::move(*worst);
      open.erase(worst);
      CountBox left = node;
      CountBox right = node;
      if (!cut(node, left, right)) {
        closed = std::max(closed, node.bound);
        continue;
      }
      add(std::move(left), open);
      add(std::move(right), open);
    }
    for (const CountBox& node : open) closed = std::max(closed, node.bound);
    ClosingResult result{value_, std::max(closed, value_ + gap_), {}, nodes - left_};
    if (!best_.empty()) result.counts = counts_.by_group(best_);
    return result;
  }

 private:
  struct Point : DualPoint {
    std::vector<double> f;    // where the events would be, by event
    std::vector<int> counts;  // by column
  };

  void add(CountBox node, std::vector<CountBox>& open) {
    if (!tighten(node)) return;
    const double before = node.bound;
    node.means = descend(node);
    node.bound = std::min(node.bound, before);
    if (node.bound > value_ + gap_) open.push_back(std::move(node));
  }

  // Cuts the box down to what the columns allowed can sum to; false when nothing is left.
  [[nodiscard]] bool tighten(CountBox& node) const {
    for (std::size_t side = 0; side < 2 * events_; ++side) {
      double least = 0.0;
      double most = 0.0;
      for (std::size_t g = 0; g < groups_.size(); ++g) {
        int left = groups_[g].weeks;
        int room = 0;
        double smallest = kInfinity;
        double largest = -kInfinity;
        for (std::size_t c = first_[g]; c < first_[g + 1]; ++c) {
          const double here = side < events_ ? columns_[c]->s[side] : columns_[c]->loss[side - events_];
          least += node.least[c] * here;
          most += node.least[c] * here;
          left -= node.least[c];
          room += node.most[c] - node.least[c];
          if (node.most[c] == node.least[c]) continue;
          smallest = std::min(smallest, here);
          largest = std::max(largest, here);
        }
        if (left < 0 || left > room) return false;
        if (left == 0) continue;
        least += left * smallest;
        most += left * largest;
      }
      node.low[side] = std::max(node.low[side], least - kCountRounding);
      node.high[side] = std::min(node.high[side], most + kCountRounding);
      if (node.low[side] > node.high[side] + kCountRounding) return false;
      node.high[side] = std::max(node.high[side], node.low[side]);
    }
    return true;
  }

  [[nodiscard]] Corners corners_of(const CountBox& node, std::size_t e) const {
    const auto list = [](double low, double high, int nodes, const auto& at) {
      std::vector<double> out{low};
      for (int i = 0; i < nodes; ++i) {
        if (at(i) > low && at(i) < high) out.push_back(at(i));
      }
      if (high > low) out.push_back(high);
      return out;
    };
    const EventValue& value = values_[e];
    Corners out;
    out.s = list(node.low[e], node.high[e], value.s_nodes(), [&](int i) { return value.s_of(i); });
    out.loss = list(node.low[events_ + e], node.high[events_ + e], value.loss_nodes(),
                    [&](int j) { return value.loss_of(j); });
    for (const double s : out.s) {
      for (const double loss : out.loss) out.f.push_back(value.at(s, loss));
    }
    return out;
  }

  void add_events(Point& point, const std::vector<Corners>& corners, const Prices& prices) const {
    for (std::size_t e = 0; e < events_; ++e) {
      const Corners& at = corners[e];
      double best = -kInfinity;
      std::size_t best_s = 0;
      std::size_t best_loss = 0;
      for (std::size_t i = 0; i < at.s.size(); ++i) {
        for (std::size_t j = 0; j < at.loss.size(); ++j) {
          const double v = at.f[i * at.loss.size() + j] - prices.s[e] * at.s[i] + prices.loss[e] * at.loss[j];
          if (v <= best) continue;
          best = v;
          best_s = i;
          best_loss = j;
        }
      }
      point.dual += best;
      point.star_s.push_back(at.s[best_s]);
      point.star_loss.push_back(at.loss[best_loss]);
      point.f.push_back(at.f[best_s * at.loss.size() + best_loss]);
    }
  }

  void take(Point& point, std::size_t column, double worth, int weeks) const {
    if (weeks == 0) return;
    point.counts[column] += weeks;
    point.dual += weeks * worth;
    for (std::size_t e = 0; e < events_; ++e) {
      point.week_s[e] += weeks * columns_[column]->s[e];
      point.week_loss[e] += weeks * columns_[column]->loss[e];
    }
  }

  void set_worths(const Prices& prices) {
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      double sum = 0.0;
      for (std::size_t e = 0; e < events_; ++e)
        sum += prices.s[e] * columns_[c]->s[e] - prices.loss[e] * columns_[c]->loss[e];
      worth_[c] = sum;
    }
  }

  // The weeks of a group first take what they must, then what is worth most, as often as they may.
  void add_group(Point& point, const CountBox& node, std::size_t g) {
    int left = groups_[g].weeks;
    for (std::size_t c = first_[g]; c < first_[g + 1]; ++c) {
      free_[c] = node.most[c] - node.least[c];
      take(point, c, worth_[c], node.least[c]);
      left -= node.least[c];
    }
    while (left > 0) {
      std::size_t best = columns_.size();
      for (std::size_t c = first_[g]; c < first_[g + 1]; ++c) {
        if (free_[c] > 0 && (best == columns_.size() || worth_[c] > worth_[best])) best = c;
      }
      if (best == columns_.size()) return;  // tighten() has seen to it that this does not happen
      const int weeks = std::min(left, free_[best]);
      take(point, best, worth_[best], weeks);
      free_[best] -= weeks;
      left -= weeks;
    }
  }

  [[nodiscard]] Point dual_at(const CountBox& node, const std::vector<Corners>& corners,
                              const Prices& prices) {
    Point point;
    point.week_s.assign(events_, 0.0);
    point.week_loss.assign(events_, 0.0);
    point.counts.assign(columns_.size(), 0);
    set_worths(prices);
    for (std::size_t g = 0; g < groups_.size(); ++g) add_group(point, node, g);
    add_events(point, corners, prices);
    return point;
  }

  // Subgradient descent towards the value to beat: when the dual comes down to it, the node is closed.
  Means descend(CountBox& node) {
    std::vector<Corners> corners;
    for (std::size_t e = 0; e < events_; ++e) corners.push_back(corners_of(node, e));
    Means means;
    Prices now = node.prices;
    Prices best = now;
    double least = kInfinity;
    double step_share = 1.0;
    int idle = 0;
    std::vector<double> counts(columns_.size(), 0.0);
    means.star_s.assign(events_, 0.0);
    means.star_loss = means.f = means.star_s;
    for (int step = 0; step < kNodeSteps; ++step) {
      const Point point = dual_at(node, corners, now);
      add_to(means, counts, point);
      offer(point.counts);
      if (point.dual < least - 1e-9) {
        least = point.dual;
        best = now;
        idle = 0;
      } else if (++idle > 4) {
        step_share *= 0.5;
        idle = 0;
        now = best;
      }
      if (least <= value_ + gap_ || !follow(now, point, step_share)) break;
    }
    node.bound = std::min(node.bound, least);
    node.prices = best;
    polish(counts);
    for (std::size_t c = 0; c < counts.size(); ++c) {
      if (counts[c] != 0.0) means.counts.emplace_back(c, counts[c]);
    }
    return means;
  }

  // One step along the subgradient; false at an optimum.
  [[nodiscard]] bool follow(Prices& now, const Point& point, double share) const {
    const double square = squared_slope(point);
    if (square < kFlat) return false;
    step_down(now, point, share * std::max(point.dual - value_ - 0.5 * gap_, kLeastAim) / square);
    return true;
  }

  static void add_to(Means& means, std::vector<double>& counts, const Point& point) {
    ++means.steps;
    const double share = 1.0 / std::min(means.steps, kRemembered);
    const auto move = [&](std::vector<double>& mean, const auto& value) {
      for (std::size_t i = 0; i < mean.size(); ++i)
        mean[i] += share * (static_cast<double>(value[i]) - mean[i]);
    };
    move(counts, point.counts);
    move(means.star_s, point.star_s);
    move(means.star_loss, point.star_loss);
    move(means.f, point.f);
  }

  void offer(const std::vector<int>& counts) {
    const double value = counts_.value_of(counts);
    if (value <= value_ + kBetterSeason) return;
    for (std::size_t c = 0; c < counts.size(); ++c) {
      if (counts[c] > 0 && !columns_[c]->sure) return;  // not known to fit its days
    }
    value_ = value;
    best_ = counts;
  }

  void polish(const std::vector<double>& means) {
    std::vector<int> counts = counts_.rounded(means);
    if (counts == polished_) return;
    polished_ = counts;
    offer(counts_.exchanged(std::move(counts)));
  }

  // The count that is furthest from whole is cut; where all are whole, the box of the event whose F is
  // worth least between the points that the prices choose; else any count that is still free.
  bool cut(const CountBox& node, CountBox& left, CountBox& right) const {
    const Means& means = node.means;
    std::size_t column = columns_.size();
    double furthest = kWhole;
    for (const auto& [c, count] : means.counts) {
      const double part = count - std::floor(count);
      const double from_whole = std::min(part, 1.0 - part);
      if (from_whole <= furthest || node.least[c] == node.most[c]) continue;
      furthest = from_whole;
      column = c;
    }
    if (column < columns_.size()) return cut_count(node, column, means.count_of(column), left, right);
    std::size_t event = events_;
    double hollow = kBetterSeason;
    for (std::size_t e = 0; e < events_; ++e) {
      const double here = means.f[e] - values_[e].at(means.star_s[e], means.star_loss[e]);
      if (here <= hollow) continue;
      hollow = here;
      event = e;
    }
    if (event < events_) return cut_event(node, event, left, right, events_);
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      if (node.least[c] < node.most[c]) return cut_count(node, c, means.count_of(c), left, right);
    }
    return false;
  }

  static bool cut_count(const CountBox& node, std::size_t column, double mean, CountBox& left,
                        CountBox& right) {
    const int whole = static_cast<int>(std::floor(mean));
    const int most = std::clamp<int>(whole, node.least[column], node.most[column] - 1);
    left.most[column] = static_cast<Weeks>(most);
    right.least[column] = static_cast<Weeks>(most + 1);
    return true;
  }

  static bool cut_event(const CountBox& node, std::size_t e, CountBox& left, CountBox& right,
                        std::size_t events) {
    const double by_s = (node.high[e] - node.low[e]) * node.prices.s[e];
    const double by_loss = (node.high[events + e] - node.low[events + e]) * node.prices.loss[e];
    const std::size_t side = by_s >= by_loss ? e : events + e;
    const double wish = by_s >= by_loss ? node.means.star_s[e] : node.means.star_loss[e];
    const double width = node.high[side] - node.low[side];
    const double at =
        std::clamp(wish, node.low[side] + kLeastPart * width, node.high[side] - kLeastPart * width);
    left.high[side] = at;
    right.low[side] = at;
    return true;
  }

  const std::vector<EventValue>& values_;
  const std::vector<ClosingGroup>& groups_;
  const ColumnCounts counts_;
  const std::vector<const Column*>& columns_;
  const std::vector<std::size_t>& first_;
  std::size_t events_;
  double gap_;
  double value_;
  std::vector<int> best_;
  std::vector<int> polished_;  // last
  std::vector<double> worth_;  // by column, at the prices of the moment
  std::vector<int> free_;      // by column: weeks that may still take it
  int left_ = 0;               // of the nodes
};

}  // namespace

ClosingResult close_gap(const std::vector<EventValue>& values, const std::vector<ClosingGroup>& groups,
                        const ClosingBox& box, double value, double gap, int nodes) {
  return Closer(values, groups, value, gap).run(box, nodes);
}

}  // namespace backplan

#include "core/allocation.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/closing.hpp"
#include "core/envelope.hpp"
#include "core/week_exchange.hpp"
#include "core/week_groups.hpp"

namespace backplan {
namespace {

constexpr double kBetterValue = 1e-9;
// The descent to better prices: it aims at so many points under the least dual known, and comes nearer each
// time that it has not fallen for a while.
constexpr int kDescentSteps = 400, kPatience = 12;
constexpr double kFalls = 1e-6, kFlatSlope = 1e-12;
constexpr double kNearest = 1e-3, kNearestQuick = 1e-2;
constexpr std::size_t kMostCounted = 3000;  // columns of a group that are still worth counting out

// Allowed nodes of S, then of L, by event: a box of the branching.
struct Box {
  std::vector<int> low, high;
  double bound = std::numeric_limits<double>::infinity();
  Prices prices;
};

class Solver {
 public:
  Solver(const AllocationTask& task, const std::vector<EventValue>& values, PackSearch& search,
         const AllocationEffort& effort)
      : task_(task),
        values_(values),
        search_(search),
        effort_(effort),
        events_(values.size()),
        counting_nodes_(effort.counting_nodes),
        groups_(task) {}

  Allocation run() {
    Allocation out;
    if (task_.weeks.empty()) return nothing_to_choose();
    Box root;
    for (const auto& value : values_) {
      root.low.push_back(0);
      root.high.push_back(value.s_nodes() - 1);
    }
    for (const auto& value : values_) {
      root.low.push_back(0);
      root.high.push_back(value.loss_nodes() - 1);
    }
    root.prices = first_prices();
    for (WeekGroup& group : groups_.all()) group.pool.push_back(search_.good(*group.segment, root.prices));
    bound_box(root, effort_.rounds);
    improve_from(root.prices);
    out.prices = root.prices;
    if (effort_.prove) out.bound = branch(root);
    out.value = best_value_;
    out.bound = std::max(out.bound, out.value);
    for (std::size_t w = 0; w < task_.weeks.size(); ++w) out.columns.push_back(best_columns_[w]);
    return out;
  }

 private:
  Allocation nothing_to_choose() {
    Allocation out;
    for (const auto& value : values_) out.value += value.at(0.0, 0.0);
    out.bound = out.value;
    out.prices = first_prices();
    return out;
  }

  [[nodiscard]] Prices first_prices() const {
    Prices prices;
    for (const auto& value : values_) {
      const int far = std::max(1, (value.s_nodes() - 1) / 3);
      prices.s.push_back(std::max(0.0, (value.node(far, 0) - value.node(0, 0)) / value.s_of(far)));
      prices.loss.push_back(std::max(0.0, (value.node(far, 0) - value.node(far, 1)) / value.loss_of(1)));
    }
    return prices;
  }

  [[nodiscard]] std::vector<Envelope> envelopes_of(const Box& box) const {
    std::vector<Envelope> out;
    for (std::size_t e = 0; e < events_; ++e) {
      const std::size_t l = events_ + e;
      out.push_back({values_[e], {box.low[e], box.high[e]}, {box.low[l], box.high[l]}});
    }
    return out;
  }

  void add_event_terms(DualPoint& point, const Prices& prices, const std::vector<Envelope>& box) const {
    for (std::size_t e = 0; e < events_; ++e) {
      const Envelope::Peak peak = box[e].peak(prices.s[e], prices.loss[e]);
      point.dual += peak.worth;
      point.star_s.push_back(values_[e].s_of(peak.at_s));
      point.star_loss.push_back(values_[e].loss_of(peak.at_loss));
    }
  }

  // The Lagrangian at these prices; `chosen` is the best column of each group.
  [[nodiscard]] DualPoint dual_at(const Prices& prices, const std::vector<Envelope>& box,
                                  const std::vector<const Column*>& chosen) const {
    DualPoint point;
    point.week_s.assign(events_, 0.0);
    point.week_loss.assign(events_, 0.0);
    add_event_terms(point, prices, box);
    groups_.add_to(point, search_, prices, chosen);
    return point;
  }

  // Exact pricing of every group: the dual value is then a true bound. New columns join the pools.
  double price_all(const Prices& prices, const std::vector<Envelope>& box, bool& grew) {
    std::vector<Column> best;
    for (const WeekGroup& group : groups_.all()) {
      best.push_back(effort_.prove ? search_.best(*group.segment, prices, true)
                                   : search_.good(*group.segment, prices));
    }
    std::vector<const Column*> chosen;
    for (const Column& column : best) chosen.push_back(&column);
    const double bound = dual_at(prices, box, chosen).dual;
    for (std::size_t g = 0; g < best.size(); ++g) {
      auto& pool = groups_.all()[g].pool;
      const bool known =
          std::any_of(pool.begin(), pool.end(), [&](const Column& c) { return c.pack == best[g].pack; });
      if (known) continue;
      pool.push_back(best[g]);
      grew = true;
    }
    return bound;
  }

  // Subgradient descent over the pools with a target that comes closer when it stops paying.
  Prices descend(const Prices& start, const std::vector<Envelope>& box) const {
    Prices now = start;
    Prices best = start;
    double least = std::numeric_limits<double>::infinity();
    double ahead = 1.0;
    int idle = 0;
    const double nearest = effort_.prove ? kNearest : kNearestQuick;
    for (int step = 0; step < kDescentSteps && ahead > nearest; ++step) {
      const DualPoint point = dual_at(now, box, groups_.best_in_pools(search_, now));
      if (point.dual < least - kFalls) {
        least = point.dual;
        best = now;
        idle = 0;
      } else if (++idle > kPatience) {
        ahead *= 0.5;
        idle = 0;
        now = best;
      }
      const double square = squared_slope(point);
      if (square < kFlatSlope) break;
      step_down(now, point, (point.dual - (least - ahead)) / square);
    }
    return best;
  }

  void bound_box(Box& box, int rounds) {
    Prices prices = box.prices;
    const std::vector<Envelope> envelopes = envelopes_of(box);
    for (int round = 0; round < rounds; ++round) {
      bool grew = false;
      const double bound = price_all(prices, envelopes, grew);
      if (bound < box.bound) {
        box.bound = bound;
        box.prices = prices;
      }
      if (round > 0 && !grew) break;
      if (box.bound <= best_value_ + effort_.gap) break;
      prices = descend(prices, envelopes);
    }
  }

  // Local search from the columns that these prices choose.
  void improve_from(const Prices& prices) {
    const auto chosen = groups_.best_in_pools(search_, prices, true);
    std::vector<const Column*> weeks;
    for (const int g : groups_.of_week()) weeks.push_back(chosen[static_cast<std::size_t>(g)]);
    const FilledWeeks filled = exchange_weeks(groups_, values_, std::move(weeks));
    if (filled.value <= best_value_ + kBetterValue) return;
    best_value_ = filled.value;
    best_columns_.clear();
    for (const Column* column : filled.columns) best_columns_.push_back(*column);
  }

  // The S or L whose wish is furthest from what the weeks give, in points; split between the two.
  [[nodiscard]] bool split(const Box& box, Box& left, Box& right) const {
    const DualPoint point =
        dual_at(box.prices, envelopes_of(box), groups_.best_in_pools(search_, box.prices));
    double most = 0.0;
    std::size_t side = box.low.size();
    double where = 0.0;  // in nodes
    for (std::size_t i = 0; i < box.low.size(); ++i) {
      if (box.high[i] - box.low[i] < 2) continue;
      const bool of_s = i < events_;
      const std::size_t e = of_s ? i : i - events_;
      const double star = of_s ? point.star_s[e] : point.star_loss[e];
      const double week = of_s ? point.week_s[e] : point.week_loss[e];
      const double price = of_s ? box.prices.s[e] : box.prices.loss[e];
      const double apart = std::fabs(star - week) * (price + 1e-6) + 1e-9 * (box.high[i] - box.low[i]);
      if (apart <= most) continue;
      most = apart;
      side = i;
      const double middle = 0.5 * (star + week);
      where = of_s ? values_[e].place_of_s(middle) : values_[e].place_of_loss(middle);
    }
    if (side == box.low.size()) return false;
    // Both boxes hold the node of the cut, so that together they cover everything.
    const int cut =
        std::clamp(static_cast<int>(std::floor(where + 0.5)), box.low[side] + 1, box.high[side] - 1);
    left = box;
    right = box;
    left.high[side] = cut;
    right.low[side] = cut;
    return true;
  }

  double branch(const Box& root) {
    std::vector<Box> open{root};
    std::vector<Box> stuck;  // too narrow to be split
    for (int n = 0; n < effort_.nodes && !open.empty(); ++n) {
      const auto worst = std::max_element(open.begin(), open.end(),
                                          [](const Box& a, const Box& b) { return a.bound < b.bound; });
      Box box = *worst;
      if (box.bound <= best_value_ + effort_.gap) break;
      open.erase(worst);
      Box left;
      Box right;
      if (!split(box, left, right)) {
        stuck.push_back(std::move(box));
        continue;
      }
      for (Box* half : {&left, &right}) {
        half->bound = box.bound;
        bound_box(*half, 8);
        improve_from(half->prices);
        open.push_back(*half);
      }
    }
    return close_boxes(std::move(open), std::move(stuck));
  }

  // The worst first: a box under what a worse one keeps open need not be looked at.
  double close_boxes(std::vector<Box> boxes, std::vector<Box> stuck) {
    std::move(stuck.begin(), stuck.end(), std::back_inserter(boxes));
    std::stable_sort(boxes.begin(), boxes.end(),
                     [](const Box& a, const Box& b) { return a.bound > b.bound; });
    double bound = best_value_;
    for (const Box& box : boxes) {
      if (box.bound <= std::max(bound, best_value_ + effort_.gap)) return std::max(bound, box.bound);
      bound = std::max(bound, close_box(box));
    }
    return bound;
  }

  // What is left of a box when every column that a better season could use is counted out: a week's
  // column can lie no further under the best one at these prices than the bound lies over the value.
  double close_box(const Box& box) {
    const double room = box.bound - best_value_ - effort_.gap;
    if (room <= 0.0 || counting_nodes_ <= 0) return box.bound;
    std::vector<ClosingGroup> groups;
    std::vector<std::size_t> index;
    for (std::size_t g = 0; g < groups_.all().size(); ++g) {
      const WeekGroup& group = groups_.all()[g];
      const Segment& segment = *group.segment;
      const double most = search_.worth(search_.best(segment, box.prices, true), box.prices);
      std::vector<Column> columns = search_.all_above(segment, box.prices, most - room, kMostCounted);
      if (columns.size() > kMostCounted) return box.bound;
      groups.push_back({group.count, strongest(std::move(columns))});
      index.push_back(g);
    }
    const ClosingResult closed = close_gap(values_, groups, {box.low, box.high, box.prices}, best_value_,
                                           effort_.gap, counting_nodes_);
    counting_nodes_ -= closed.nodes;
    if (!closed.counts.empty()) take(closed, groups, index);
    return std::min(box.bound, closed.bound);
  }

  // Without the columns that another one beats or equals in everything.
  [[nodiscard]] std::vector<Column> strongest(std::vector<Column> columns) const {
    std::vector<Column> out;
    const auto beats = [&](const Column& a, const Column& b) {
      for (std::size_t e = 0; e < events_; ++e) {
        if (a.s[e] < b.s[e] || a.loss[e] > b.loss[e]) return false;
      }
      return true;
    };
    std::stable_sort(columns.begin(), columns.end(),
                     [](const Column& a, const Column& b) { return a.sure && !b.sure; });
    for (const Column& column : columns) {
      if (std::any_of(out.begin(), out.end(), [&](const Column& kept) { return beats(kept, column); }))
        continue;
      out.erase(std::remove_if(
                    out.begin(), out.end(),
                    [&](const Column& kept) { return (column.sure || !kept.sure) && beats(column, kept); }),
                out.end());
      out.push_back(column);
    }
    return out;
  }

  void take(const ClosingResult& closed, const std::vector<ClosingGroup>& groups,
            const std::vector<std::size_t>& index) {
    best_value_ = closed.value;
    best_columns_.assign(task_.weeks.size(), Column{});
    for (std::size_t i = 0; i < groups.size(); ++i) {
      std::vector<Column> columns;
      for (std::size_t c = 0; c < groups[i].columns.size(); ++c) {
        columns.insert(columns.end(), static_cast<std::size_t>(closed.counts[i][c]), groups[i].columns[c]);
      }
      for (std::size_t w = 0; w < best_columns_.size(); ++w) {
        if (groups_.of_week()[w] != static_cast<int>(index[i])) continue;
        best_columns_[w] = columns.back();
        columns.pop_back();
      }
    }
  }

  const AllocationTask& task_;
  const std::vector<EventValue>& values_;
  PackSearch& search_;
  const AllocationEffort& effort_;
  std::size_t events_;
  int counting_nodes_;  // left
  WeekGroups groups_;
  double best_value_ = -std::numeric_limits<double>::infinity();
  std::vector<Column> best_columns_;
};

}  // namespace

Allocation allocate(const AllocationTask& task, const std::vector<EventValue>& values, PackSearch& search,
                    const AllocationEffort& effort) {
  return Solver(task, values, search, effort).run();
}

}  // namespace backplan

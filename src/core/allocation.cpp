#include "core/allocation.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "core/closing.hpp"

namespace backplan {
namespace {

constexpr double kLossScale = 20.0;  // a unit of L moves a result about as much as twenty of S
constexpr double kBetter = 1e-9;
constexpr std::size_t kMostCounted = 3000;  // columns of a group that are still worth counting out

// One kind of week: all weeks of equal signature share its columns.
struct Group {
  const Segment* segment = nullptr;
  int count = 0;     // weeks that are of this group in the plan
  int twin = -1;     // the group of the same weeks as deloads
  int eligible = 0;  // of its weeks may be deloads
  bool deload = false;
  std::vector<Column> pool;
};

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
        counting_nodes_(effort.counting_nodes) {
    group_weeks();
  }

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
    for (Group& group : groups_) group.pool.push_back(search_.good(*group.segment, root.prices));
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

  void group_weeks() {
    std::map<std::string, int> known;
    const auto group_of = [&](const Segment& segment, bool deload) {
      const std::string key = (deload ? "d|" : "b|") + segment.signature;
      const auto found = known.find(key);
      if (found != known.end()) return found->second;
      const int at = static_cast<int>(groups_.size());
      known[key] = at;
      Group group;
      group.segment = &segment;
      group.deload = deload;
      groups_.push_back(group);
      return at;
    };
    for (std::size_t w = 0; w < task_.weeks.size(); ++w) {
      const int build = group_of(task_.weeks[w], false);
      int own = build;
      if (task_.may_deload[w] || task_.is_deload[w]) {
        const int twin = group_of(task_.as_deload[w], true);
        groups_[static_cast<std::size_t>(build)].twin = twin;
        groups_[static_cast<std::size_t>(build)].eligible += 1;
        if (task_.is_deload[w]) own = twin;
      }
      base_of_.push_back(build);
      group_of_week_.push_back(own);
      groups_[static_cast<std::size_t>(own)].count += 1;
      deloads_ += task_.is_deload[w] ? 1 : 0;
    }
    for (std::size_t w = 0; w < task_.weeks.size(); ++w) ++weeks_of_base_[base_of_[w]];
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

  struct Point {
    double dual = 0.0;
    std::vector<double> star_s, star_loss;  // what the events would choose
    std::vector<double> week_s, week_loss;  // what the weeks give
  };

  void add_event_terms(Point& point, const Prices& prices, const Box& box) const {
    for (std::size_t e = 0; e < events_; ++e) {
      const EventValue& value = values_[e];
      double best = -std::numeric_limits<double>::infinity();
      int at_s = 0;
      int at_loss = 0;
      for (int i = box.low[e]; i <= box.high[e]; ++i) {
        for (int j = box.low[events_ + e]; j <= box.high[events_ + e]; ++j) {
          const double v = value.node(i, j) - prices.s[e] * value.s_of(i) + prices.loss[e] * value.loss_of(j);
          if (v > best) {
            best = v;
            at_s = i;
            at_loss = j;
          }
        }
      }
      point.dual += best;
      point.star_s.push_back(value.s_of(at_s));
      point.star_loss.push_back(value.loss_of(at_loss));
    }
  }

  void add_weeks(Point& point, const Column& column, double worth, int count) const {
    point.dual += count * worth;
    for (std::size_t e = 0; e < events_; ++e) {
      point.week_s[e] += count * column.s[e];
      point.week_loss[e] += count * column.loss[e];
    }
  }

  // The Lagrangian at these prices; `chosen` is the best column of each group. The deloads fall on
  // those eligible weeks where they cost least: a relaxation of where they really may lie.
  [[nodiscard]] Point dual_at(const Prices& prices, const Box& box,
                              const std::vector<const Column*>& chosen) const {
    Point point;
    point.week_s.assign(events_, 0.0);
    point.week_loss.assign(events_, 0.0);
    add_event_terms(point, prices, box);
    std::vector<std::pair<double, std::size_t>> cost;
    std::vector<int> as_deload(groups_.size(), 0);
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      if (groups_[g].deload || groups_[g].twin < 0) continue;
      cost.emplace_back(search_.worth(*chosen[g], prices) -
                            search_.worth(*chosen[static_cast<std::size_t>(groups_[g].twin)], prices),
                        g);
    }
    std::sort(cost.begin(), cost.end());
    int left = deloads_;
    for (const auto& [difference, g] : cost) {
      const int here = std::min(left, groups_[g].eligible);
      as_deload[g] = here;
      left -= here;
    }
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      if (groups_[g].deload) continue;
      const auto weeks = weeks_of_base_.find(static_cast<int>(g));
      const int all = weeks == weeks_of_base_.end() ? 0 : weeks->second;
      add_weeks(point, *chosen[g], search_.worth(*chosen[g], prices), all - as_deload[g]);
      if (as_deload[g] > 0) {
        const Column& twin = *chosen[static_cast<std::size_t>(groups_[g].twin)];
        add_weeks(point, twin, search_.worth(twin, prices), as_deload[g]);
      }
    }
    return point;
  }

  // `sure`: only those whose placing was found.
  [[nodiscard]] std::vector<const Column*> best_in_pools(const Prices& prices, bool sure = false) const {
    std::vector<const Column*> chosen;
    for (const Group& group : groups_) {
      const Column* best = nullptr;
      double most = -std::numeric_limits<double>::infinity();
      for (const Column& column : group.pool) {
        if (sure && !column.sure) continue;
        const double worth = search_.worth(column, prices);
        if (worth <= most + kBetter) continue;
        most = worth;
        best = &column;
      }
      chosen.push_back(best);
    }
    return chosen;
  }

  // Exact pricing of every group: the dual value is then a true bound. New columns join the pools.
  double price_all(const Prices& prices, const Box& box, bool& grew) {
    std::vector<Column> best;
    for (Group& group : groups_) {
      best.push_back(effort_.prove ? search_.best(*group.segment, prices, true)
                                   : search_.good(*group.segment, prices));
    }
    std::vector<const Column*> chosen;
    for (const Column& column : best) chosen.push_back(&column);
    const double bound = dual_at(prices, box, chosen).dual;
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      auto& pool = groups_[g].pool;
      const bool known =
          std::any_of(pool.begin(), pool.end(), [&](const Column& c) { return c.pack == best[g].pack; });
      if (known) continue;
      pool.push_back(best[g]);
      grew = true;
    }
    return bound;
  }

  // Subgradient descent over the pools with a target that comes closer when it stops paying.
  Prices descend(const Prices& start, const Box& box) const {
    Prices now = start;
    Prices best = start;
    double least = std::numeric_limits<double>::infinity();
    double ahead = 1.0;
    int idle = 0;
    for (int step = 0; step < 400 && ahead > 1e-3; ++step) {
      const Point point = dual_at(now, box, best_in_pools(now));
      if (point.dual < least - 1e-6) {
        least = point.dual;
        best = now;
        idle = 0;
      } else if (++idle > 12) {
        ahead *= 0.5;
        idle = 0;
        now = best;
      }
      double square = 0.0;
      for (std::size_t e = 0; e < events_; ++e) {
        const double gs = point.week_s[e] - point.star_s[e];
        const double gl = (point.star_loss[e] - point.week_loss[e]) * kLossScale;
        square += gs * gs + gl * gl;
      }
      if (square < 1e-12) break;
      const double length = (point.dual - (least - ahead)) / square;
      for (std::size_t e = 0; e < events_; ++e) {
        now.s[e] = std::max(0.0, now.s[e] - length * (point.week_s[e] - point.star_s[e]));
        now.loss[e] = std::max(
            0.0, now.loss[e] - length * kLossScale * kLossScale * (point.star_loss[e] - point.week_loss[e]));
      }
    }
    return best;
  }

  void bound_box(Box& box, int rounds) {
    Prices prices = box.prices;
    for (int round = 0; round < rounds; ++round) {
      bool grew = false;
      const double bound = price_all(prices, box, grew);
      if (bound < box.bound) {
        box.bound = bound;
        box.prices = prices;
      }
      if (round > 0 && !grew) break;
      if (box.bound <= best_value_ + effort_.gap) break;
      prices = descend(prices, box);
    }
  }

  [[nodiscard]] double value_of(const std::vector<double>& s, const std::vector<double>& loss) const {
    double sum = 0.0;
    for (std::size_t e = 0; e < events_; ++e) sum += values_[e].at(s[e], loss[e]);
    return sum;
  }

  // Local search from the columns that these prices choose: change one week, or all equal weeks, at
  // a time while it pays.
  void improve_from(const Prices& prices) {
    const auto chosen = best_in_pools(prices, true);
    std::vector<const Column*> week;
    for (const int g : group_of_week_) week.push_back(chosen[static_cast<std::size_t>(g)]);
    std::vector<double> s(events_, 0.0);
    std::vector<double> loss(events_, 0.0);
    for (const Column* column : week) {
      for (std::size_t e = 0; e < events_; ++e) {
        s[e] += column->s[e];
        loss[e] += column->loss[e];
      }
    }
    double value = value_of(s, loss);
    while (improve_once(week, s, loss, value)) {
    }
    if (value > best_value_ + kBetter) {
      best_value_ = value;
      best_columns_.clear();
      for (const Column* column : week) best_columns_.push_back(*column);
    }
  }

  bool improve_once(std::vector<const Column*>& week, std::vector<double>& s, std::vector<double>& loss,
                    double& value) const {
    double best = value + 1e-7;
    std::vector<std::size_t> best_weeks;
    const Column* best_column = nullptr;
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      std::map<const Column*, std::vector<std::size_t>> used;
      std::vector<const Column*> order;
      for (std::size_t w = 0; w < week.size(); ++w) {
        if (group_of_week_[w] != static_cast<int>(g)) continue;
        if (used[week[w]].empty()) order.push_back(week[w]);
        used[week[w]].push_back(w);
      }
      for (const Column* from : order) {
        const auto& weeks = used[from];
        for (const Column& to : groups_[g].pool) {
          if (&to == from || !to.sure) continue;
          const std::size_t all = weeks.size();
          for (const std::size_t n : {std::size_t{1}, all}) {
            if (n == all && all == 1 && n != 1) continue;
            const double moved = moved_value(s, loss, *from, to, static_cast<double>(n));
            if (moved > best) {
              best = moved;
              best_weeks.assign(weeks.begin(), weeks.begin() + static_cast<std::ptrdiff_t>(n));
              best_column = &to;
            }
          }
        }
      }
    }
    if (best_column == nullptr) return false;
    for (const std::size_t w : best_weeks) {
      for (std::size_t e = 0; e < events_; ++e) {
        s[e] += best_column->s[e] - week[w]->s[e];
        loss[e] += best_column->loss[e] - week[w]->loss[e];
      }
      week[w] = best_column;
    }
    value = value_of(s, loss);
    return true;
  }

  [[nodiscard]] double moved_value(const std::vector<double>& s, const std::vector<double>& loss,
                                   const Column& from, const Column& to, double n) const {
    double sum = 0.0;
    for (std::size_t e = 0; e < events_; ++e) {
      sum += values_[e].at(s[e] + n * (to.s[e] - from.s[e]), loss[e] + n * (to.loss[e] - from.loss[e]));
    }
    return sum;
  }

  // The S or L whose wish is furthest from what the weeks give, in points; split between the two.
  [[nodiscard]] bool split(const Box& box, Box& left, Box& right) const {
    const Point point = dual_at(box.prices, box, best_in_pools(box.prices));
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
    if (room <= 0.0 || counting_nodes_ <= 0 || !deloads_are_fixed()) return box.bound;
    std::vector<ClosingGroup> groups;
    std::vector<std::size_t> index;
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      if (groups_[g].count == 0) continue;
      const Segment& segment = *groups_[g].segment;
      const double most = search_.worth(search_.best(segment, box.prices, true), box.prices);
      std::vector<Column> columns = search_.all_above(segment, box.prices, most - room, kMostCounted);
      if (columns.size() > kMostCounted) return box.bound;
      groups.push_back({groups_[g].count, strongest(std::move(columns))});
      index.push_back(g);
    }
    const ClosingResult closed = close_gap(values_, groups, {box.low, box.high, box.prices}, best_value_,
                                           effort_.gap, counting_nodes_);
    counting_nodes_ -= closed.nodes;
    if (!closed.counts.empty()) take(closed, groups, index);
    return std::min(box.bound, closed.bound);
  }

  [[nodiscard]] bool deloads_are_fixed() const { return task_.may_deload == task_.is_deload; }

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
      for (std::size_t w = 0; w < group_of_week_.size(); ++w) {
        if (group_of_week_[w] != static_cast<int>(index[i])) continue;
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
  std::vector<Group> groups_;
  std::vector<int> group_of_week_, base_of_;
  std::map<int, int> weeks_of_base_;
  int deloads_ = 0;
  double best_value_ = -std::numeric_limits<double>::infinity();
  std::vector<Column> best_columns_;
};

}  // namespace

Allocation allocate(const AllocationTask& task, const std::vector<EventValue>& values, PackSearch& search,
                    const AllocationEffort& effort) {
  return Solver(task, values, search, effort).run();
}

}  // namespace backplan

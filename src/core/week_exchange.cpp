#include "core/week_exchange.hpp"

#include <map>
#include <utility>

namespace backplan {
namespace {

constexpr double kLeastExchange = 1e-7;

class Exchange {
 public:
  Exchange(const WeekGroups& groups, const std::vector<EventValue>& values,
           std::vector<const Column*> columns)
      : groups_(groups), values_(values), columns_(std::move(columns)) {
    s_.assign(values.size(), 0.0);
    loss_.assign(values.size(), 0.0);
    for (const Column* column : columns_) {
      for (std::size_t e = 0; e < values.size(); ++e) {
        s_[e] += column->s[e];
        loss_[e] += column->loss[e];
      }
    }
    set_value();
  }

  FilledWeeks run() {
    while (step()) {
    }
    return {columns_, value_};
  }

 private:
  struct Move {
    double value = 0.0;
    const Column* to = nullptr;
    std::vector<std::size_t> weeks;
  };

  void set_value() {
    value_ = 0.0;
    for (std::size_t e = 0; e < values_.size(); ++e) value_ += values_[e].at(s_[e], loss_[e]);
  }

  [[nodiscard]] double moved_value(const Column& from, const Column& to, double n) const {
    double sum = 0.0;
    for (std::size_t e = 0; e < values_.size(); ++e) {
      sum += values_[e].at(s_[e] + n * (to.s[e] - from.s[e]), loss_[e] + n * (to.loss[e] - from.loss[e]));
    }
    return sum;
  }

  // The columns in use in a group, in the order of their first week, with their weeks.
  [[nodiscard]] std::vector<std::pair<const Column*, std::vector<std::size_t>>> in_use(std::size_t g) const {
    std::vector<std::pair<const Column*, std::vector<std::size_t>>> out;
    std::map<const Column*, std::size_t> place;  // looked up only
    for (std::size_t w = 0; w < columns_.size(); ++w) {
      if (groups_.of_week()[w] != static_cast<int>(g)) continue;
      const auto [at, is_new] = place.emplace(columns_[w], out.size());
      if (is_new) out.push_back({columns_[w], {}});
      out[at->second].second.push_back(w);
    }
    return out;
  }

  void try_group(std::size_t g, Move& best) const {
    for (const auto& used : in_use(g)) {
      const Column* from = used.first;
      const std::vector<std::size_t>& weeks = used.second;
      for (const Column& to : groups_.all()[g].pool) {
        if (&to == from || !to.sure) continue;
        const auto offer = [&](std::size_t n) {
          const double moved = moved_value(*from, to, static_cast<double>(n));
          if (moved <= best.value) return;
          best = {moved, &to, {weeks.begin(), weeks.begin() + static_cast<std::ptrdiff_t>(n)}};
        };
        offer(1);
        if (weeks.size() > 1) offer(weeks.size());
      }
    }
  }

  bool step() {
    Move best;
    best.value = value_ + kLeastExchange;
    for (std::size_t g = 0; g < groups_.all().size(); ++g) try_group(g, best);
    if (best.to == nullptr) return false;
    for (const std::size_t w : best.weeks) {
      for (std::size_t e = 0; e < values_.size(); ++e) {
        s_[e] += best.to->s[e] - columns_[w]->s[e];
        loss_[e] += best.to->loss[e] - columns_[w]->loss[e];
      }
      columns_[w] = best.to;
    }
    set_value();
    return true;
  }

  const WeekGroups& groups_;
  const std::vector<EventValue>& values_;
  std::vector<const Column*> columns_;
  std::vector<double> s_, loss_;  // by event
  double value_ = 0.0;
};

}  // namespace

FilledWeeks exchange_weeks(const WeekGroups& groups, const std::vector<EventValue>& values,
                           std::vector<const Column*> columns) {
  return Exchange(groups, values, std::move(columns)).run();
}

}  // namespace backplan

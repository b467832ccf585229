#include "core/packs.hpp"

#include <algorithm>

namespace backplan {
namespace {
constexpr int kChangeOver = 3;        // charged a block; the rules' figure is checked by the placing
constexpr int kLeastOverheadOver = 5; // a session costs at least 8 minutes more than its blocks, less one change-over
constexpr int kMostCost = 600;
constexpr double kTie = 1e-12;
}  // namespace

DoseTables::DoseTables(const std::vector<EventState>& states) {
  for (const EventState& state : states) {
    std::vector<double> gain;
    std::vector<double> loss;
    for (int i = 0; i <= kStepsPerUnit * kMostUnits; ++i) {
      const double u = static_cast<double>(i) / kStepsPerUnit;
      gain.push_back(dose_gain(state.dose, u));
      loss.push_back(state.model->loss_per_week * dose_shortfall(state.dose, u));
    }
    gain_.push_back(std::move(gain));
    loss_.push_back(std::move(loss));
  }
}

PlaceRequest request_for(const Segment& segment) {
  PlaceRequest request;
  request.first = segment.first;
  request.count = segment.count;
  request.most_minutes = segment.most_minutes;
  request.most_training_days = segment.most_training_days;
  request.rehearse = segment.rehearse;
  request.only_days = segment.only_days;
  return request;
}

PackSearch::PackSearch(const Calendar& calendar, const std::vector<EventState>& states,
                       const DoseTables& tables, int home_blocks)
    : calendar_(calendar), states_(states), tables_(tables), home_blocks_(home_blocks) {
  for (const EventState& state : states) {
    std::vector<double> row;
    for (const WorkKind* kind : calendar.kinds()) {
      const auto found = kind->transfer.find(state.model->id);
      row.push_back(found == kind->transfer.end() ? 0.0 : found->second);
    }
    transfer_.push_back(std::move(row));
  }
  list_options(home_blocks);
}

void PackSearch::list_options(int home_blocks) {
  for (const WorkKind* kind : calendar_.kinds()) {
    std::vector<Option> options;
    const int most_home = kind->home ? home_blocks : 0;
    for (int full = 0; full <= kind->most_a_week; ++full) {
      for (int shorter = 0; full + shorter <= kind->most_a_week; ++shorter) {
        for (int home = 0; home <= most_home && full + shorter + home <= 6; ++home) {
          Option option;
          option.count = {static_cast<std::uint8_t>(full), static_cast<std::uint8_t>(shorter),
                          static_cast<std::uint8_t>(home)};
          option.stimulus = full * kind->full.stimulus + shorter * kind->shorter.stimulus;
          if (kind->home) option.stimulus += home * kind->home->stimulus;
          option.blocks = full + shorter;
          option.cost = full * kind->full.minutes + shorter * kind->shorter.minutes + kChangeOver * option.blocks;
          option.hard = kind->hard ? option.blocks : 0;
          option.home = home;
          option.home_minutes = kind->home ? home * kind->home->minutes : 0;
          options.push_back(option);
        }
      }
    }
    // The strongest first: a good incumbent early prunes most of the rest.
    std::stable_sort(options.begin(), options.end(),
                     [](const Option& a, const Option& b) { return a.stimulus > b.stimulus; });
    options_.push_back(std::move(options));
  }
}

Column PackSearch::column_of(const Pack& pack, const Segment& segment, int minutes) const {
  Column column;
  column.pack = pack;
  column.minutes = minutes;
  column.hard = calendar_.hard_blocks(pack);
  for (std::size_t e = 0; e < states_.size(); ++e) {
    double u = 0.0;
    for (std::size_t k = 0; k < options_.size(); ++k) {
      const WorkKind& kind = *calendar_.kinds()[k];
      const KindCount& n = pack.kinds[k];
      double stimulus = n.full * kind.full.stimulus + n.shorter * kind.shorter.stimulus + segment.fixed[k];
      if (kind.home) stimulus += n.home * kind.home->stimulus;
      u += transfer_[e][k] * stimulus;
    }
    const double rate = segment.share > 0.0 ? u / segment.share : 0.0;
    column.s.push_back(segment.counted[e] * tables_.gain(e, rate));
    column.loss.push_back(segment.counted[e] * tables_.loss(e, rate));
  }
  return column;
}

double PackSearch::worth(const Column& column, const Prices& prices) const {
  double sum = 0.0;
  for (std::size_t e = 0; e < states_.size(); ++e) {
    sum += prices.s[e] * column.s[e] - prices.loss[e] * column.loss[e];
  }
  return sum;
}

const Placement& PackSearch::placed(const Pack& pack, const Segment& segment) {
  auto& known = memory_[segment.signature];
  const auto found = known.find(pack);
  if (found != known.end()) return found->second;
  Placement placement = calendar_.place(pack, request_for(segment));
  placement.days.clear();
  return known.emplace(pack, std::move(placement)).first->second;
}

// Depth-first over the kinds with an optimistic bound on what the rest can still add.
struct PackSearch::Search {
  PackSearch& owner;
  const Segment& segment;
  const Prices& prices;
  bool unknown_fits;
  int capacity = 0;
  int slot_days = 0;
  std::vector<std::vector<double>> most_stimulus;  // kind x cost left
  Pack pack{};
  std::vector<double> u;
  Pack best_pack{};
  double best = -1e300;
  int best_minutes = 0;
  int budget_left_home = 0;

  [[nodiscard]] double value(const std::vector<double>& at) const {
    double sum = 0.0;
    for (std::size_t e = 0; e < at.size(); ++e) {
      if (segment.counted[e] == 0.0) continue;
      const double rate = at[e] / segment.share;
      sum += segment.counted[e] *
             (prices.s[e] * owner.tables_.gain(e, rate) - prices.loss[e] * owner.tables_.loss(e, rate));
    }
    return sum;
  }

  [[nodiscard]] double optimistic(std::size_t k, int cost_left) const {
    std::vector<double> at = u;
    for (std::size_t rest = k; rest < owner.options_.size(); ++rest) {
      const double stimulus = most_stimulus[rest][static_cast<std::size_t>(cost_left)];
      for (std::size_t e = 0; e < at.size(); ++e) at[e] += owner.transfer_[e][rest] * stimulus;
    }
    return value(at);
  }

  void descend(std::size_t k, int cost, int blocks, int hard, int home, int home_minutes) {
    if (k == owner.options_.size()) {
      const double worth = value(u);
      if (worth <= best + kTie) return;
      const Placement& placement = owner.placed(pack, segment);
      if (placement.outcome == Placing::impossible) return;
      if (placement.outcome == Placing::unknown && !unknown_fits) return;
      best = worth;
      best_pack = pack;
      best_minutes = placement.minutes;
      return;
    }
    if (optimistic(k, capacity - cost) <= best + kTie) return;
    const WorkKind& kind = *owner.calendar_.kinds()[k];
    for (const Option& option : owner.options_[k]) {
      const int all = cost + option.cost;
      const int all_blocks = blocks + option.blocks;
      if (all > capacity || hard + option.hard > segment.most_hard) continue;
      if (home + option.home > owner.home_blocks_ || all_blocks > 3 * slot_days) continue;
      if (kind.family == "intervals" && option.blocks > segment.most_intervals) continue;
      const int minutes_home = home_minutes + option.home_minutes;
      if (all + kLeastOverheadOver * ((all_blocks + 2) / 3) + minutes_home > segment.most_minutes) {
        continue;
      }
      pack.kinds[k] = option.count;
      for (std::size_t e = 0; e < u.size(); ++e) u[e] += owner.transfer_[e][k] * option.stimulus;
      descend(k + 1, all, all_blocks, hard + option.hard, home + option.home, minutes_home);
      for (std::size_t e = 0; e < u.size(); ++e) u[e] -= owner.transfer_[e][k] * option.stimulus;
      pack.kinds[k] = {};
    }
  }
};

Column PackSearch::best(const Segment& segment, const Prices& prices, bool unknown_fits) {
  Search search{*this, segment, prices, unknown_fits, 0, 0, {}, {}, {}, {}, -1e300, 0, 0};
  std::vector<int> room;
  for (int i = 0; i < segment.count; ++i) {
    const auto& day = calendar_.days()[static_cast<std::size_t>(segment.first + i)];
    if (day.usable > 0 && !day.closed && (segment.only_days >> i & 1U) != 0) room.push_back(day.usable + kChangeOver);
  }
  std::sort(room.rbegin(), room.rend());
  for (std::size_t i = 0; i < room.size() && static_cast<int>(i) < segment.most_training_days; ++i) {
    search.capacity += room[i];
    ++search.slot_days;
  }
  search.capacity = std::min({search.capacity, segment.most_minutes, kMostCost});
  if (search.capacity < 0) search.capacity = 0;
  for (const auto& options : options_) {
    std::vector<double> most(static_cast<std::size_t>(search.capacity) + 1, 0.0);
    for (const Option& option : options) {
      if (option.home > home_blocks_ || option.hard > segment.most_hard) continue;
      for (int c = option.cost; c <= search.capacity; ++c) {
        auto& cell = most[static_cast<std::size_t>(c)];
        cell = std::max(cell, option.stimulus);
      }
    }
    search.most_stimulus.push_back(std::move(most));
  }
  for (std::size_t e = 0; e < states_.size(); ++e) {
    double u = 0.0;
    for (std::size_t k = 0; k < options_.size(); ++k) u += transfer_[e][k] * segment.fixed[k];
    search.u.push_back(u);
  }
  search.descend(0, 0, 0, 0, 0, 0);
  return column_of(search.best_pack, segment, search.best_minutes);
}

}  // namespace backplan

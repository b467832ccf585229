#include "core/packs.hpp"

#include <algorithm>

namespace backplan {
namespace {
constexpr int kChangeOver = 3;  // charged a block; the rules' figure is checked by the placing
// What a session costs beyond its blocks, less the change-over that is charged to its first block:
// preparation and recovery of a short and of a long session (data/model/rules.json).
constexpr int kShortSession = 8 - kChangeOver;
constexpr int kLongSession = 15 - kChangeOver;
constexpr int kShortSessionHolds = 31 + kChangeOver;
constexpr int kMostCost = 600;
constexpr int kBlocksADay = 3;
constexpr double kTie = 1e-12;
// The least overhead of sessions that together hold so many minutes, when one holds at most `most`.
std::vector<int> least_overhead_of(int most) {
  std::vector<int> least(kMostCost + 1, 0);
  for (int minutes = 1; minutes <= kMostCost; ++minutes) {
    const auto after = [&](int held) { return least[static_cast<std::size_t>(std::max(0, minutes - held))]; };
    const int with_short = after(std::min(most, kShortSessionHolds)) + kShortSession;
    const int with_long = after(most) + kLongSession;
    least[static_cast<std::size_t>(minutes)] = most <= 0 ? kMostCost : std::min(with_short, with_long);
  }
  return least;
}

// For each point of a rising curve the steepest chord to a later one: the slope of its upper hull.
std::vector<double> steepest_chords(const std::vector<double>& curve, double step) {
  std::vector<double> slope(curve.size(), 0.0);
  std::vector<std::size_t> hull{curve.size() - 1};  // of the points after this one, nearest last
  for (std::size_t i = curve.size() - 1; i-- > 0;) {
    const auto chord = [&](std::size_t to) {
      return (curve[to] - curve[i]) / (static_cast<double>(to - i) * step);
    };
    while (hull.size() > 1 && chord(hull[hull.size() - 2]) >= chord(hull.back())) hull.pop_back();
    slope[i] = chord(hull.back());
    hull.push_back(i);
  }
  return slope;
}

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
    gain_chord_.push_back(steepest_chords(gain, 1.0 / kStepsPerUnit));
    std::vector<double> spared;
    for (const double lost : loss) spared.push_back(-lost);
    loss_chord_.push_back(steepest_chords(spared, 1.0 / kStepsPerUnit));
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
          option.cost =
              full * kind->full.minutes + shorter * kind->shorter.minutes + kChangeOver * option.blocks;
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
    per_minute_.push_back(std::max(kind->full.stimulus / (kind->full.minutes + kChangeOver),
                                   kind->shorter.stimulus / (kind->shorter.minutes + kChangeOver)));
    if (kind->home) most_home_stimulus_ = std::max(most_home_stimulus_, kind->home->stimulus);
  }
  // Hard and long work first: it has the fewest choices and decides most.
  for (std::size_t k = 0; k < options_.size(); ++k) order_.push_back(k);
  std::stable_sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
    const WorkKind& first = *calendar_.kinds()[a];
    const WorkKind& second = *calendar_.kinds()[b];
    if (first.hard != second.hard) return first.hard;
    return first.full.minutes > second.full.minutes;
  });
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

PackSearch::Fit PackSearch::placed(const Pack& pack, const Segment& segment,
                                   std::map<Pack, Known>& known) const {
  Known& memory = known[pack];
  if (memory.fits_in <= segment.most_minutes) return {Placing::done, memory.fits_in};
  if (segment.most_minutes <= memory.impossible_in) return {Placing::impossible, 0};
  if (segment.most_minutes == memory.given_up_in) return {Placing::unknown, segment.most_minutes};
  const Placement placement = calendar_.place(pack, request_for(segment));
  if (placement.outcome == Placing::done) memory.fits_in = placement.minutes;
  if (placement.outcome == Placing::impossible) memory.impossible_in = segment.most_minutes;
  if (placement.outcome == Placing::unknown) memory.given_up_in = segment.most_minutes;
  return {placement.outcome, placement.minutes};
}

// Depth-first over the kinds with an optimistic bound on what the rest can still add.
struct PackSearch::Search {
  using Stimuli = std::array<double, kMostEvents>;
  PackSearch& owner;
  const Segment& segment;
  const Prices& prices;
  bool unknown_fits;
  std::map<Pack, Known>& known;
  int capacity = 0;
  int slot_days = 0;
  std::vector<int> least_overhead{};  // by slot minutes: of any sessions that hold so many
  // By kind in the order of the search, hard blocks left, slot minutes left.
  std::vector<std::array<std::vector<double>, kMostHardLeft + 1>> most_stimulus{};
  Pack pack{};
  Stimuli u{};
  Pack best_pack{};
  double best = -1e300;
  int best_minutes = 0;
  bool surely_fits = true;  // the best pack's placing was found, not only given up

  [[nodiscard]] std::size_t events() const { return owner.states_.size(); }

  [[nodiscard]] double value(const Stimuli& at) const {
    double sum = 0.0;
    for (std::size_t e = 0; e < events(); ++e) {
      if (segment.counted[e] == 0.0) continue;
      const double rate = at[e] / segment.share;
      sum += segment.counted[e] *
             (prices.s[e] * owner.tables_.gain(e, rate) - prices.loss[e] * owner.tables_.loss(e, rate));
    }
    return sum;
  }

  [[nodiscard]] double optimistic(std::size_t place, int cost_left, int hard_left) const {
    Stimuli at = u;
    const auto hard = static_cast<std::size_t>(std::clamp(hard_left, 0, kMostHardLeft));
    for (std::size_t rest = place; rest < owner.order_.size(); ++rest) {
      const double stimulus = most_stimulus[rest][hard][static_cast<std::size_t>(cost_left)];
      const std::size_t k = owner.order_[rest];
      for (std::size_t e = 0; e < events(); ++e) at[e] += owner.transfer_[e][k] * stimulus;
    }
    return value(at);
  }

  // The same, with the minutes left shared by the kinds: each event's curve is replaced by its
  // steepest chord, and all minutes go to the kind that then pays most.
  [[nodiscard]] double optimistic_shared(std::size_t place, int cost_left, int hard_left,
                                         int home_left) const {
    Stimuli slope{};
    for (std::size_t e = 0; e < events(); ++e) {
      if (segment.counted[e] == 0.0) continue;
      const double rate = u[e] / segment.share;
      slope[e] = segment.counted[e] / segment.share *
                 (prices.s[e] * owner.tables_.gain_chord(e, rate) +
                  prices.loss[e] * owner.tables_.loss_chord(e, rate));
    }
    double best_minute = 0.0;
    double best_stimulus = 0.0;
    for (std::size_t rest = place; rest < owner.order_.size(); ++rest) {
      const std::size_t k = owner.order_[rest];
      double unit = 0.0;
      for (std::size_t e = 0; e < events(); ++e) unit += owner.transfer_[e][k] * slope[e];
      best_stimulus = std::max(best_stimulus, unit);
      if (hard_left == 0 && owner.calendar_.traits(static_cast<int>(k)).hard) continue;
      best_minute = std::max(best_minute, unit * owner.per_minute_[k]);
    }
    return value(u) + best_minute * cost_left + best_stimulus * owner.most_home_stimulus_ * home_left;
  }

  // False when the pack is worth no more than the best: one with less stimulus cannot be either.
  bool offer() {
    const double worth = value(u);
    if (worth <= best + kTie) return false;
    const Fit placement = owner.placed(pack, segment, known);
    if (placement.outcome == Placing::impossible) return true;
    if (placement.outcome == Placing::unknown && !unknown_fits) return true;
    best = worth;
    best_pack = pack;
    best_minutes = placement.minutes;
    surely_fits = placement.outcome == Placing::done;
    return true;
  }

  void descend(std::size_t place, int cost, int blocks, int hard, int home, int home_minutes) {
    const int hard_left = segment.most_hard - hard;
    if (optimistic_shared(place, capacity - cost, hard_left, owner.home_blocks_ - home) <= best + kTie)
      return;
    if (optimistic(place, capacity - cost, hard_left) <= best + kTie) return;
    const std::size_t k = owner.order_[place];
    const WorkKind& kind = *owner.calendar_.kinds()[k];
    const Stimuli before = u;
    for (const Option& option : owner.options_[k]) {
      const int all = cost + option.cost;
      const int all_blocks = blocks + option.blocks;
      if (all > capacity || hard + option.hard > segment.most_hard) continue;
      if (home + option.home > owner.home_blocks_ || all_blocks > kBlocksADay * slot_days) continue;
      if (kind.family == "intervals" && option.blocks > segment.most_intervals) continue;
      const int minutes_home = home_minutes + option.home_minutes;
      if (all + least_overhead[static_cast<std::size_t>(all)] + minutes_home > segment.most_minutes) continue;
      pack.kinds[k] = option.count;
      for (std::size_t e = 0; e < events(); ++e) u[e] = before[e] + owner.transfer_[e][k] * option.stimulus;
      if (place + 1 < owner.order_.size()) {
        descend(place + 1, all, all_blocks, hard + option.hard, home + option.home, minutes_home);
      } else if (!offer()) {
        break;  // the options come strongest first
      }
    }
    u = before;
    pack.kinds[k] = {};
  }

  // Packs that were best here before, at other prices: a good start prunes most of the search.
  void start_from_known() {
    for (const auto& [winner, minutes] : owner.winners_[segment.signature]) {
      Stimuli at = u;
      for (std::size_t k = 0; k < owner.options_.size(); ++k) {
        const WorkKind& kind = *owner.calendar_.kinds()[k];
        const KindCount& n = winner.kinds[k];
        double stimulus = n.full * kind.full.stimulus + n.shorter * kind.shorter.stimulus;
        if (kind.home) stimulus += n.home * kind.home->stimulus;
        for (std::size_t e = 0; e < events(); ++e) at[e] += owner.transfer_[e][k] * stimulus;
      }
      const double worth = value(at);
      if (worth > best) {
        best = worth;
        best_pack = winner;
        best_minutes = minutes;
      }
    }
  }
};

Column PackSearch::best(const Segment& segment, const Prices& prices, bool unknown_fits) {
  Search search{*this, segment, prices, unknown_fits, memory_[segment.days]};
  std::vector<int> room;
  for (int i = 0; i < segment.count; ++i) {
    const auto& day = calendar_.days()[static_cast<std::size_t>(segment.first + i)];
    if (day.usable > 0 && !day.closed && (segment.only_days >> i & 1U) != 0)
      room.push_back(day.usable + kChangeOver);
  }
  std::sort(room.rbegin(), room.rend());
  for (std::size_t i = 0; i < room.size() && static_cast<int>(i) < segment.most_training_days; ++i) {
    search.capacity += room[i];
    ++search.slot_days;
  }
  search.capacity = std::clamp(search.capacity, 0, std::min(std::max(segment.most_minutes, 0), kMostCost));
  search.least_overhead = least_overhead_of(room.empty() ? 0 : room.front());
  while (search.capacity > 0 &&
         search.capacity + search.least_overhead[static_cast<std::size_t>(search.capacity)] >
             segment.most_minutes) {
    --search.capacity;
  }
  for (const std::size_t k : order_)
    search.most_stimulus.push_back(most_stimulus_of(k, search.capacity, segment));
  for (std::size_t e = 0; e < states_.size(); ++e) {
    for (std::size_t k = 0; k < options_.size(); ++k) search.u[e] += transfer_[e][k] * segment.fixed[k];
  }
  search.start_from_known();
  if (order_.empty()) {
    search.offer();
  } else {
    search.descend(0, 0, 0, 0, 0, 0);
  }
  auto& winners = winners_[segment.signature];
  const auto is_best = [&](const auto& known) { return known.first == search.best_pack; };
  if (search.surely_fits && std::none_of(winners.begin(), winners.end(), is_best)) {
    winners.emplace_back(search.best_pack, search.best_minutes);
  }
  return column_of(search.best_pack, segment, search.best_minutes);
}

std::array<std::vector<double>, kMostHardLeft + 1> PackSearch::most_stimulus_of(
    std::size_t k, int capacity, const Segment& segment) const {
  std::array<std::vector<double>, kMostHardLeft + 1> out;
  for (int hard = 0; hard <= kMostHardLeft; ++hard) {
    auto& most = out[static_cast<std::size_t>(hard)];
    most.assign(static_cast<std::size_t>(capacity) + 1, 0.0);
    for (const Option& option : options_[k]) {
      if (option.home > home_blocks_ || option.cost > capacity) continue;
      if (option.hard > std::min(hard, segment.most_hard)) continue;
      auto& cell = most[static_cast<std::size_t>(option.cost)];
      cell = std::max(cell, option.stimulus);
    }
    for (std::size_t c = 1; c < most.size(); ++c) most[c] = std::max(most[c], most[c - 1]);
  }
  return out;
}

}  // namespace backplan

#include "core/packs.hpp"

#include <algorithm>

namespace backplan {
namespace {
// The least minutes that sessions which together hold so many cost beyond them, when one session holds
// at most `most`. A change-over is charged to every block, so one of a session's is given back.
std::vector<int> least_overhead_of(int most, const Rules& rules) {
  const int change = rules.change_over_minutes;
  const int for_short = rules.short_preparation_minutes + rules.short_recovery_minutes;
  const int for_long = rules.preparation_minutes + rules.recovery_minutes;
  const int short_holds = rules.short_slot_under - 1 - for_short + change;
  std::vector<int> least(kMostCost + 1, 0);
  for (int minutes = 1; minutes <= kMostCost; ++minutes) {
    const auto after = [&](int held) { return least[static_cast<std::size_t>(std::max(0, minutes - held))]; };
    // Where a session that counts as short holds nothing, there is none.
    const int with_short =
        short_holds > 0 ? after(std::min(most, short_holds)) + for_short - change : kMostCost;
    const int with_long = after(most) + for_long - change;
    least[static_cast<std::size_t>(minutes)] =
        most <= 0 ? kMostCost : std::max(0, std::min(with_short, with_long));
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
    const DoseCurve curve(state.dose);
    std::vector<double> gain;
    std::vector<double> loss;
    for (int i = 0; i <= kStepsPerUnit * kMostUnits; ++i) {
      const double u = static_cast<double>(i) / kStepsPerUnit;
      gain.push_back(curve.gain(u));
      loss.push_back(state.model->loss_per_week * curve.shortfall(u));
    }
    std::vector<double> spared;
    for (const double lost : loss) spared.push_back(-lost);
    const std::vector<double> gain_chord = steepest_chords(gain, 1.0 / kStepsPerUnit);
    const std::vector<double> loss_chord = steepest_chords(spared, 1.0 / kStepsPerUnit);
    std::vector<Effect>& effects = effects_.emplace_back();
    effects.reserve(gain.size());
    for (std::size_t i = 0; i < gain.size(); ++i)
      effects.push_back({gain[i], loss[i], gain_chord[i], loss_chord[i]});
  }
}

int done_of(const Segment& segment, std::size_t kind) {
  return segment.done.empty() ? 0 : segment.done[kind];
}

PlaceRequest request_for(const Segment& segment) {
  PlaceRequest request;
  request.first = segment.first;
  request.count = segment.count;
  request.most_minutes = segment.most_minutes;
  request.most_training_days = segment.most_training_days;
  request.rehearse = segment.rehearse;
  request.only_days = segment.only_days;
  request.stations = segment.stations;
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
  const int change = calendar_.rules().change_over_minutes;
  for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
    const WorkKind* kind = calendar_.kinds()[k];
    options_.push_back(options_of(k, kind->home ? home_blocks : 0));
    per_minute_.push_back(std::max(kind->full.stimulus / (kind->full.minutes + change),
                                   kind->shorter.stimulus / (kind->shorter.minutes + change)));
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

std::vector<PackSearch::Option> PackSearch::options_of(std::size_t k, int most_home) const {
  const int change = calendar_.rules().change_over_minutes;
  const WorkKind* kind = calendar_.kinds()[k];
  const int most = calendar_.most_a_week(k);
  std::vector<Option> options;
  for (int full = 0; full <= most; ++full) {
    for (int shorter = 0; full + shorter <= most; ++shorter) {
      for (int home = 0; home <= most_home && full + shorter + home <= kMostOfAKind; ++home) {
        Option option;
        option.count = {static_cast<std::uint8_t>(full), static_cast<std::uint8_t>(shorter),
                        static_cast<std::uint8_t>(home)};
        option.stimulus = full * kind->full.stimulus + shorter * kind->shorter.stimulus;
        if (kind->home) option.stimulus += home * kind->home->stimulus;
        option.blocks = full + shorter;
        option.cost = full * kind->full.minutes + shorter * kind->shorter.minutes + change * option.blocks;
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
  return options;
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

std::size_t PackSearch::PackHash::operator()(const Pack& pack) const {
  // FNV-1a, 64 bits (Fowler, Noll, Vo): offset basis and prime.
  constexpr std::size_t kBasis = 0xcbf29ce484222325;
  constexpr std::size_t kPrime = 0x100000001b3;
  std::size_t hash = kBasis;
  for (const KindCount& n : pack.kinds) {
    for (const std::size_t count : {n.full, n.shorter, n.home}) hash = (hash ^ count) * kPrime;
  }
  return hash;
}

bool PackSearch::Room::holds(std::size_t k, const KindCount& n) const {
  return n.full <= days[k].full && n.full + n.shorter <= days[k].shorter &&
         n.full + n.shorter + n.home <= days[k].home;
}

KindCount PackSearch::days_for(std::size_t k, const Segment& segment) const {
  const WorkKind& kind = *calendar_.kinds()[k];
  KindCount out;
  for (int i = 0; i < segment.count; ++i) {
    const CalendarDay& day = calendar_.days()[static_cast<std::size_t>(segment.first + i)];
    if (day.closed || (day.allowed >> k & 1U) == 0 || (segment.only_days >> i & 1U) == 0) continue;
    ++out.home;
    const auto weekday = static_cast<std::size_t>(weekday_index(day.date));
    if (segment.stations && (segment.stations->kinds[weekday] >> k & 1U) == 0) continue;
    if (kind.hard && (day.no_hard || day.fixed_hard)) continue;
    if (std::min(kind.full.minutes, kind.shorter.minutes) <= day.usable) ++out.shorter;
    if (kind.full.minutes <= day.usable && (day.gentle >> k & 1U) == 0) ++out.full;
  }
  return out;
}

PackSearch::Room PackSearch::room_in(const Segment& segment) const {
  const int change = calendar_.rules().change_over_minutes;
  Room out;
  std::vector<int> room;
  for (int i = 0; i < segment.count; ++i) {
    const auto& day = calendar_.days()[static_cast<std::size_t>(segment.first + i)];
    if (day.usable > 0 && !day.closed && (segment.only_days >> i & 1U) != 0)
      room.push_back(day.usable + change);
  }
  std::sort(room.rbegin(), room.rend());
  for (std::size_t i = 0; i < room.size() && static_cast<int>(i) < segment.most_training_days; ++i) {
    out.capacity += room[i];
    out.most_blocks += calendar_.rules().blocks_a_slot;
  }
  out.capacity = std::clamp(out.capacity, 0, std::min(std::max(segment.most_minutes, 0), kMostCost));
  out.least_overhead = least_overhead_of(room.empty() ? 0 : room.front(), calendar_.rules());
  while (out.capacity > 0 &&
         out.capacity + out.least_overhead[static_cast<std::size_t>(out.capacity)] > segment.most_minutes) {
    --out.capacity;
  }
  for (std::size_t k = 0; k < options_.size(); ++k) out.days.push_back(days_for(k, segment));
  return out;
}

PackSearch::Stimuli PackSearch::fixed_stimuli(const Segment& segment) const {
  Stimuli u{};
  for (std::size_t e = 0; e < states_.size(); ++e) {
    for (std::size_t k = 0; k < options_.size(); ++k) u[e] += transfer_[e][k] * segment.fixed[k];
  }
  return u;
}

double PackSearch::value(const Segment& segment, const Prices& prices, const Stimuli& u) const {
  double sum = 0.0;
  for (std::size_t e = 0; e < states_.size(); ++e) {
    if (segment.counted[e] == 0.0) continue;
    const DoseTables::Effect& effect = tables_.at(e, u[e] / segment.share);
    sum += segment.counted[e] * (prices.s[e] * effect.gain - prices.loss[e] * effect.loss);
  }
  return sum;
}

PackSearch::Fit PackSearch::placed(const Pack& pack, const Segment& segment, Memory& known,
                                   int most_steps) const {
  Known& memory = known[pack];
  const bool thorough = most_steps >= kPlacingSteps;
  if (memory.fits_in <= segment.most_minutes) return {Placing::done, memory.fits_in};
  if (segment.most_minutes <= memory.impossible_in) return {Placing::impossible, 0};
  const bool given_up =
      thorough ? segment.most_minutes == memory.given_up_in
               : segment.most_minutes == memory.soon_given_up_in && most_steps <= memory.soon_given_up_after;
  if (given_up) return {Placing::unknown, segment.most_minutes};
  const Placement placement = calendar_.place(pack, request_for(segment), most_steps);
  if (placement.outcome == Placing::done) memory.fits_in = placement.minutes;
  if (placement.outcome == Placing::impossible) memory.impossible_in = segment.most_minutes;
  if (placement.outcome == Placing::unknown) {
    memory.soon_given_up_in = segment.most_minutes;
    memory.soon_given_up_after = most_steps;
    if (thorough) memory.given_up_in = segment.most_minutes;
  }
  return {placement.outcome, placement.minutes};
}

void PackSearch::remember(const Pack& pack) {
  if (std::find(winners_.begin(), winners_.end(), pack) == winners_.end()) winners_.push_back(pack);
}

}  // namespace backplan

#include "core/common_week.hpp"

#include <algorithm>

namespace backplan {
namespace {

// A plain week far from any test. The date does not matter; it is a Monday.
constexpr Date kPlainMonday{std::chrono::year{2027} / 1 / 4};
constexpr Days kFarAway{70};
constexpr int kMostHardDays = 4;       // of anybody, by the rules
constexpr double kLossStep = 0.03;     // in v: over which a loss is priced
constexpr double kShareOfWeeks = 0.5;  // of the reference dose, over which a gain is priced

// Weekdays as bits, Monday first.
constexpr unsigned kMonWedFri = 0b0010101, kTueThuSat = 0b0101010, kMidWeek = 0b0001110,
                   kEveryDay = 0b1111111;

// Strength before running, as plans are written.
int rank_of(const WorkKind& kind) {
  if (kind.family == "lift") return 0;
  if (kind.family == "throw") return 1;
  if (kind.family == "shuttle" || kind.family == "drill") return 2;
  if (kind.family == "press") return 3;
  return kind.running ? 4 : 5;
}

}  // namespace

CommonWeek::CommonWeek(const Squad& squad, const Knowledge& knowledge)
    : someone_(squad.members.front().candidate) {
  someone_.background = Background::long_trained;
  someone_.medical = {};
  someone_.avoid.clear();
  someone_.blocked.clear();
  someone_.days.clear();
  someone_.diagnostics.clear();
  someone_.home_blocks = 0;
  someone_.week = squad.mornings;
  someone_.test_date = kPlainMonday + kFarAway;
  calendar_ = std::make_unique<Calendar>(someone_, knowledge, kPlainMonday);
}

Segment CommonWeek::segment(int most_hard, int most_intervals) const {
  Segment out;
  out.week = 10;
  out.count = 7;
  for (int i = 0; i < 7; ++i) out.most_minutes += calendar_->days()[static_cast<std::size_t>(i)].slot;
  int fixed_hard = 0;
  for (int i = 0; i < 7; ++i) fixed_hard += calendar_->days()[static_cast<std::size_t>(i)].fixed_hard ? 1 : 0;
  out.most_hard = std::max(0, most_hard - fixed_hard);
  out.most_training_days = 6;
  out.most_intervals = most_intervals;
  out.fixed.assign(calendar_->kinds().size(), 0.0);
  return out;
}

std::vector<Layout> CommonWeek::layouts_for(const std::vector<EventState>& states, const Prices& prices,
                                            int most_hard, int most_intervals) const {
  const DoseTables tables(states);
  PackSearch search(*calendar_, states, tables, 0);
  Segment week = segment(most_hard, most_intervals);
  week.counted.assign(states.size(), 1.0);
  week.days = week.signature = "common";
  return laid_out(search.good(week, prices).pack);
}

Stations CommonWeek::by_turns(unsigned run_days, unsigned fast_days) const {
  Stations out;
  for (std::size_t k = 0; k < calendar_->kinds().size(); ++k) {
    const WorkKind& kind = *calendar_->kinds()[k];
    unsigned days = kEveryDay;
    if (kind.running) days = run_days;
    if (kind.family == "lift") days = kEveryDay & ~run_days;
    if (kind.family == "intervals") days = run_days & fast_days;
    for (std::size_t d = 0; d < 7; ++d) {
      if ((days >> d & 1U) != 0) out.kinds[d] |= 1U << k;
    }
  }
  return out;
}

std::optional<Layout> CommonWeek::laid_with(const Pack& pack, const Stations& stations) const {
  Segment week = segment(kMostHardDays, 2);
  week.stations = stations;
  const Placement placed = calendar_->place(pack, request_for(week));
  if (placed.outcome != Placing::done) return std::nullopt;
  Layout out;
  out.pack = pack;
  const auto& kinds = calendar_->kinds();
  for (std::size_t d = 0; d < placed.days.size(); ++d) {
    const auto weekday = static_cast<std::size_t>(weekday_index(kPlainMonday + Days(d)));
    std::vector<PlacedBlock> blocks = placed.days[d].blocks;
    std::stable_sort(blocks.begin(), blocks.end(), [&](const PlacedBlock& a, const PlacedBlock& b) {
      return rank_of(*kinds[static_cast<std::size_t>(a.kind)]) <
             rank_of(*kinds[static_cast<std::size_t>(b.kind)]);
    });
    for (const PlacedBlock& block : blocks) {
      out.stations.kinds[weekday] |= 1U << block.kind;
      out.pattern.days[weekday].push_back({kinds[static_cast<std::size_t>(block.kind)]->id, block.size});
    }
  }
  return out;
}

std::vector<Layout> CommonWeek::laid_out(const Pack& pack) const {
  std::vector<Layout> out;
  const auto add = [&](const Stations& stations) {
    auto layout = laid_with(pack, stations);
    if (!layout) return;
    const bool known = std::any_of(out.begin(), out.end(),
                                   [&](const Layout& other) { return other.pattern == layout->pattern; });
    if (!known) out.push_back(*std::move(layout));
  };
  add(by_turns(kTueThuSat, kMidWeek));
  add(by_turns(kMonWedFri, kMidWeek));
  if (out.empty()) add(by_turns(kTueThuSat, kEveryDay));
  if (out.empty()) {
    Stations mid_week = by_turns(kEveryDay, kMidWeek);
    for (std::size_t d = 0; d < 7; ++d) {
      for (std::size_t k = 0; k < calendar_->kinds().size(); ++k) {
        if (calendar_->kinds()[k]->family == "lift") mid_week.kinds[d] |= 1U << k;
      }
    }
    add(mid_week);
  }
  Stations any;
  any.kinds.fill(~0U);
  add(any);
  return out;
}

std::optional<Layout> CommonWeek::layout_of(const Pattern& pattern) const {
  Layout out;
  out.pattern = pattern;
  const auto& kinds = calendar_->kinds();
  for (std::size_t d = 0; d < 7; ++d) {
    for (const PatternBlock& block : pattern.days[d]) {
      const auto found = std::find_if(kinds.begin(), kinds.end(),
                                      [&](const WorkKind* kind) { return kind->id == block.work; });
      if (found == kinds.end()) return std::nullopt;
      const auto k = static_cast<std::size_t>(found - kinds.begin());
      out.stations.kinds[d] |= 1U << k;
      KindCount& n = out.pack.kinds[k];
      ++(block.size == BlockSize::full ? n.full : n.shorter);
    }
  }
  // The mornings may have changed since the pattern was made.
  if (!laid_with(out.pack, out.stations)) return std::nullopt;
  return out;
}

Stations CommonWeek::with_instead(const Stations& stations, std::uint32_t own) const {
  Stations out = stations;
  for (std::size_t d = 0; d < 7; ++d) {
    bool gap = (stations.kinds[d] & own) != 0;
    for (std::size_t k = 0; k < calendar_->kinds().size(); ++k)
      gap = gap || ((stations.kinds[d] >> k & 1U) != 0 && calendar_->kinds()[k]->hard);
    if (!gap) continue;
    for (std::size_t k = 0; k < calendar_->kinds().size(); ++k) {
      const WorkKind& kind = *calendar_->kinds()[k];
      const bool no_kit = std::all_of(kind.needs.begin(), kind.needs.end(),
                                      [](const std::string& need) { return need == "track"; });
      if (!kind.hard && no_kit) out.kinds[d] |= 1U << k;
    }
  }
  return out;
}

Prices prices_of(const std::vector<EventState>& states, const Candidate& candidate,
                 const Knowledge& knowledge, Date as_of, double below_minimum_cost) {
  const Category& category = *knowledge.standard.find_category(candidate.category);
  const double weeks = std::max(1.0, static_cast<double>((candidate.test_date - as_of).count()) / 7.0);
  Prices out;
  for (const EventState& state : states) {
    const AbilityScale scale(*state.scale, pass_minimum(category, *state.event));
    const auto value = [&](double s, double loss) {
      double sum = 0.0;
      for (const auto& node : state.nodes) {
        const double mean = state.mean_at(node, s, loss);
        const double sd = test_day_sd(state, node, s, mean);
        sum += node.weight *
               (scale.expected_points(mean, sd) - below_minimum_cost * scale.p_below_minimum(mean, sd));
      }
      return sum;
    };
    const double s = weeks * kShareOfWeeks;
    out.s.push_back(std::max(0.0, (value(s, 0.0) - value(0.0, 0.0)) / s));
    out.loss.push_back(std::max(0.0, (value(s, 0.0) - value(s, kLossStep)) / kLossStep));
  }
  return out;
}

}  // namespace backplan

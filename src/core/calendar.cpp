#include "core/calendar.hpp"

#include <algorithm>
#include <iterator>
#include <set>
#include <stdexcept>

#include "backplan/suited.hpp"
#include "core/coming_back.hpp"

namespace backplan {
namespace {

bool equipped(const WorkKind& kind, const Equipment& equipment) {
  const auto has = [&](const std::string& need) {
    if (need == "hex_bar") return equipment.hex_bar;
    if (need == "sled") return equipment.sled;
    if (need == "kettlebells") return equipment.kettlebells;
    if (need == "pull_up_bar") return equipment.pull_up_bar;
    if (need == "track") return equipment.track;
    if (need == "throw_ball") return equipment.throw_ball;
    return false;
  };
  return std::all_of(kind.needs.begin(), kind.needs.end(), has);
}

const BlockedSpell* spell_on(const Candidate& candidate, Date date) {
  for (const BlockedSpell& spell : candidate.blocked) {
    if (date >= spell.from && date <= spell.to) return &spell;
  }
  return nullptr;
}

bool long_march(const FixedWork& work, const FixedKind* kind, const Rules& rules) {
  return kind != nullptr && kind->march && work.distance && *work.distance >= rules.march_spacing_from;
}

// Fixed work that really takes place on this date (a blocked day has none).
std::vector<const FixedWork*> fixed_on(const Candidate& candidate, Date date) {
  std::vector<const FixedWork*> out;
  if (spell_on(candidate, date) != nullptr) return out;
  for (const FixedWork& work : candidate.fixed) {
    if (work.weekday == weekday_index(date)) out.push_back(&work);
  }
  return out;
}

// Depth-first search over the days for one pack.
class Placer {
 public:
  Placer(const Calendar& calendar, const Rules& rules, const PlaceRequest& request, int most_steps)
      : calendar_(calendar),
        rules_(rules),
        request_(request),
        days_(static_cast<std::size_t>(request.count)),
        most_steps_(most_steps) {
    for (int i = 0; i < request.count; ++i) {
      const auto& day = calendar.days()[static_cast<std::size_t>(request.first + i)];
      hard_.push_back(day.fixed_hard);
      if (day.fixed_any) ++training_days_;
    }
  }

  Placement run(const Pack& pack) {
    list_blocks(pack);
    Placement out;
    const bool found = place_from(0);
    out.outcome = found ? Placing::done : (steps_ > most_steps_ ? Placing::unknown : Placing::impossible);
    if (found) {
      for (std::size_t i = 0; i < days_.size(); ++i) {
        PlacedDay day{{}, days_[i].session};
        for (std::size_t at = 0; at < blocks_.size(); ++at) {
          if (day_of_[at] == static_cast<int>(i)) day.blocks.push_back(blocks_[at].block);
        }
        out.minutes += day.session + days_[i].home_minutes;
        out.days.push_back(std::move(day));
      }
    }
    return out;
  }

 private:
  struct Day {
    std::uint32_t kinds = 0;  // bit k: a block of kind k
    int minutes = 0, slot_blocks = 0, home_minutes = 0;
    int session = 0;  // clock minutes of the slot's blocks
    bool hard = false, lift = false, intervals = false;
  };
  // A block with what the search asks of it at every step.
  struct Item {
    PlacedBlock block;
    int minutes = 0;
    bool hard = false;
    // Hard blocks first, home blocks last, long before short: the tightest choices early.
    [[nodiscard]] bool before(const Item& other) const {
      if (rank() != other.rank()) return rank() < other.rank();
      return minutes > other.minutes;
    }
    [[nodiscard]] int rank() const { return block.size == BlockSize::home ? 2 : (hard ? 0 : 1); }
  };

  [[nodiscard]] int session_of(int minutes, int blocks) const {
    return blocks == 0 ? 0 : session_minutes(rules_, minutes, blocks);
  }

  void list_blocks(const Pack& pack) {
    bool rehearse = request_.rehearse;
    const auto& kinds = calendar_.kinds();
    for (std::size_t k = 0; k < kinds.size(); ++k) {
      const KindCount& n = pack.kinds[k];
      for (const BlockSize size : kBlockSizes) {
        for (int i = 0; i < n.of(size); ++i) {
          PlacedBlock block{static_cast<int>(k), size, false};
          if (rehearse && size != BlockSize::home && calendar_.traits(static_cast<int>(k)).press) {
            block.rehearsal = true;
            rehearse = false;
          }
          const bool hard = calendar_.traits(block.kind).hard || block.rehearsal;
          insert({block, calendar_.block_minutes(block), hard});
        }
      }
    }
    day_of_.assign(blocks_.size(), -1);
    // Each block still to come costs at least its minutes and, in a slot, a change-over.
    least_left_.assign(blocks_.size() + 1, 0);
    for (std::size_t i = blocks_.size(); i-- > 0;) {
      const int change = blocks_[i].block.size == BlockSize::home ? 0 : rules_.change_over_minutes;
      least_left_[i] = least_left_[i + 1] + blocks_[i].minutes + change;
    }
  }

  // Into its place; behind those that it is like.
  void insert(const Item& item) {
    auto at = blocks_.end();
    while (at != blocks_.begin() && item.before(*std::prev(at))) --at;
    blocks_.insert(at, item);
  }

  [[nodiscard]] const Calendar::Traits& traits(const PlacedBlock& block) const {
    return calendar_.traits(block.kind);
  }
  [[nodiscard]] const CalendarDay& day_info(int i) const {
    return calendar_.days()[static_cast<std::size_t>(request_.first + i)];
  }
  [[nodiscard]] Day& day(int i) { return days_[static_cast<std::size_t>(i)]; }

  [[nodiscard]] bool hard_at(int i) const {
    if (i == -1) return request_.around.hard_before;
    if (i == -2) return request_.around.hard_two_before;
    if (i == request_.count) return request_.around.hard_after;
    if (i == request_.count + 1) return request_.around.hard_two_after;
    if (i < 0 || i > request_.count) return false;
    return hard_[static_cast<std::size_t>(i)] || days_[static_cast<std::size_t>(i)].hard;
  }

  // Whether a hard day here would be one too many; two days to each side are known (kMostHardInARow).
  [[nodiscard]] bool too_many_in_a_row(int i) const {
    if (rules_.hard_days_in_a_row < 2) return hard_at(i - 1) || hard_at(i + 1);
    return (hard_at(i - 1) && hard_at(i - 2)) || (hard_at(i - 1) && hard_at(i + 1)) ||
           (hard_at(i + 1) && hard_at(i + 2));
  }

  [[nodiscard]] bool lift_at(int i) const {
    if (i == -1) return request_.around.lift_before;
    return i >= 0 && i < request_.count && days_[static_cast<std::size_t>(i)].lift;
  }
  [[nodiscard]] bool intervals_at(int i) const {
    if (i == -1) return request_.around.intervals_before;
    return i >= 0 && i < request_.count && days_[static_cast<std::size_t>(i)].intervals;
  }

  [[nodiscard]] bool spaced(const Calendar::Traits& work, int i) const {
    if (work.lift) return !lift_at(i - 1) && !lift_at(i + 1) && !intervals_at(i - 1);
    if (work.intervals) return !intervals_at(i - 1) && !intervals_at(i + 1) && !lift_at(i + 1);
    return true;
  }

  [[nodiscard]] bool has_station(const PlacedBlock& block, const CalendarDay& info) const {
    const auto weekday = static_cast<std::size_t>(weekday_index(info.date));
    return (request_.stations->kinds[weekday] >> block.kind & 1U) != 0;
  }

  [[nodiscard]] bool fits(const Item& item, int i) {
    const PlacedBlock& block = item.block;
    const CalendarDay& info = day_info(i);
    const Day& here = day(i);
    if (info.closed || (info.allowed >> block.kind & 1U) == 0) return false;
    if ((info.gentle >> block.kind & 1U) != 0 && (block.size == BlockSize::full || block.rehearsal))
      return false;
    if ((request_.only_days >> i & 1U) == 0) return false;
    if (request_.stations && block.size != BlockSize::home && !has_station(block, info)) return false;
    if ((here.kinds >> block.kind & 1U) != 0) return false;
    if (here.kinds == 0 && !info.fixed_any && training_days_ >= request_.most_training_days) return false;
    const int minutes = item.minutes;
    if (block.size == BlockSize::home) return total_ + minutes <= request_.most_minutes;
    if (here.slot_blocks >= rules_.blocks_a_slot) return false;
    const int changes = here.slot_blocks * rules_.change_over_minutes;
    if (here.minutes + minutes + changes > info.usable) return false;
    const int more = session_of(here.minutes + minutes, here.slot_blocks + 1) - here.session;
    if (total_ + more > request_.most_minutes) return false;
    if (!item.hard) return true;
    return !info.no_hard && !here.hard && !info.fixed_hard && !too_many_in_a_row(i) &&
           spaced(traits(block), i);
  }

  void put(const Item& item, int i) {
    const PlacedBlock& block = item.block;
    Day& here = day(i);
    if (here.kinds == 0 && !day_info(i).fixed_any) ++training_days_;
    here.kinds |= 1U << block.kind;
    if (block.size == BlockSize::home) {
      here.home_minutes += item.minutes;
      total_ += item.minutes;
      return;
    }
    total_ -= here.session;
    here.minutes += item.minutes;
    ++here.slot_blocks;
    here.session = session_of(here.minutes, here.slot_blocks);
    total_ += here.session;
    if (item.hard) here.hard = true;
    if (traits(block).lift) here.lift = true;
    if (traits(block).intervals) here.intervals = true;
  }

  bool place_from(std::size_t at) {
    if (at == blocks_.size()) return true;
    if (++steps_ > most_steps_ || total_ + least_left_[at] > request_.most_minutes) return false;
    // Hard blocks take the first days that fit, those with an easy day on either side before the others; the
    // rest the days already in use first, so that a plan costs as few mornings and preparations as it can.
    std::uint32_t liked = 0;
    for (int i = 0; i < request_.count; ++i) {
      const bool likes = blocks_[at].hard ? !hard_at(i - 1) && !hard_at(i + 1) : day(i).kinds != 0;
      if (likes) liked |= 1U << i;
    }
    return try_days(at, liked) || try_days(at, ~liked);
  }

  // The days of the mask, in order.
  bool try_days(std::size_t at, std::uint32_t mask) {
    const Item& item = blocks_[at];
    const bool twin = at > 0 && blocks_[at - 1].block == item.block;
    for (int i = twin ? day_of_[at - 1] : 0; i < request_.count; ++i) {
      if ((mask >> i & 1U) == 0 || !fits(item, i)) continue;
      const Day saved = day(i);
      const int total = total_;
      const int training = training_days_;
      put(item, i);
      day_of_[at] = i;
      if (place_from(at + 1)) return true;
      day(i) = saved;
      total_ = total;
      training_days_ = training;
    }
    return false;
  }

  const Calendar& calendar_;
  const Rules& rules_;
  const PlaceRequest& request_;
  std::vector<Day> days_;
  std::vector<bool> hard_;
  std::vector<Item> blocks_;
  std::vector<int> day_of_;      // by block
  std::vector<int> least_left_;  // minutes, by block
  int total_ = 0;
  int training_days_ = 0;
  int steps_ = 0;
  int most_steps_;
};

// The days round a diagnostic and after a spell in the field are easy.
bool is_eased(const Candidate& candidate, Date date, const Rules& rules) {
  const auto beside = [&](Date other) {
    const auto ahead = (other - date).count();
    return ahead > 0 ? ahead <= rules.easy_days_before_diagnostic
                     : ahead < 0 && -ahead <= rules.easy_days_after_diagnostic;
  };
  const auto after = [&](const BlockedSpell& spell) {
    const auto since = (date - spell.to).count();
    return spell.kind == BlockedKind::field && since > 0 && since <= rules.easy_days_after_field;
  };
  return std::any_of(candidate.diagnostics.begin(), candidate.diagnostics.end(), beside) ||
         std::any_of(candidate.blocked.begin(), candidate.blocked.end(), after);
}

// Fixed work of the day: of its own kinds, or a work kind that is fixed.
void add_fixed(CalendarDay& day, const FixedWork& work, const Model& model) {
  const FixedKind* fixed = model.find_fixed(work.work);
  const WorkKind* known = fixed == nullptr ? model.find_work(work.work) : nullptr;
  day.fixed_any = true;
  day.fixed_minutes += work.minutes;
  if (fixed == nullptr && known == nullptr) return;
  day.fixed_distance = day.fixed_name.empty() ? work.distance : std::nullopt;
  day.fixed_name += (day.fixed_name.empty() ? "" : ", ") + (fixed != nullptr ? fixed->name : known->name);
  const bool hard = fixed == nullptr ? known->hard : fixed->is_hard(work.minutes, work.distance);
  day.fixed_hard = day.fixed_hard || hard;
  const bool running = fixed != nullptr ? fixed->running : known->running;
  if (running && work.distance) day.fixed_run = std::max(day.fixed_run, *work.distance);
}

}  // namespace

Calendar::Calendar(const Candidate& candidate, const Knowledge& knowledge, Date as_of)
    : rules_(knowledge.rules), model_(knowledge.model) {
  for (const WorkKind& kind : knowledge.model.work) {
    if (is_work_for(kind, knowledge.standard) && equipped(kind, candidate.equipment)) {
      kinds_.push_back(&kind);
      traits_.push_back(
          {kind.hard, kind.family == "lift", kind.family == "intervals", kind.family == "press"});
    }
  }
  if (kinds_.size() > kMostKinds) throw std::logic_error("more work kinds than a pack holds");
  for (const WorkKind* kind : kinds_)
    returns_.push_back(returns_of(spells_without(candidate, comes_back_with(*kind, kinds_), as_of), rules_));
  for (Date date = as_of; date < candidate.test_date; date += Days(1)) {
    CalendarDay day;
    day.date = date;
    fill_day(day, candidate, as_of);
    days_.push_back(day);
  }
}

std::optional<int> Calendar::days_back(int kind, Date date) const {
  return backplan::days_back(returns_[static_cast<std::size_t>(kind)], date);
}

int Calendar::block_minutes(const PlacedBlock& block) const {
  const WorkKind& kind = *kinds_[static_cast<std::size_t>(block.kind)];
  const BlockShape* shape = kind.shape(block.size);
  return shape == nullptr ? 0 : shape->minutes;
}

int Calendar::most_a_week(std::size_t kind) const {
  const int most = kinds_[kind]->most_a_week;
  return traits_[kind].lift ? std::min(most, rules_.deadlifts_a_week) : most;
}

bool Calendar::ever_allows(std::size_t kind) const {
  return std::any_of(days_.begin(), days_.end(),
                     [kind](const CalendarDay& day) { return (day.allowed >> kind & 1U) != 0; });
}

int Calendar::hard_blocks(const Pack& pack) const {
  int hard = 0;
  for (std::size_t k = 0; k < kinds_.size(); ++k) {
    if (kinds_[k]->hard) hard += pack.kinds[k].full + pack.kinds[k].shorter;
  }
  return hard;
}

void Calendar::fill_day(CalendarDay& day, const Candidate& candidate, Date as_of) const {
  const Date date = day.date;
  day.slot = candidate.week[static_cast<std::size_t>(weekday_index(date))];
  for (const DayOverride& override : candidate.days) {
    const auto since = (date - override.date).count();
    if (override.after_night_shift && since >= 0 && since < rules_.night_shift_easy_days) day.no_hard = true;
    if (since == 0 && override.minutes) day.slot = *override.minutes;
  }
  day.blocked = spell_on(candidate, date) != nullptr;
  if (day.blocked) day.slot = 0;
  day.usable = usable_minutes(rules_, day.slot);
  const bool diagnostic = std::count(candidate.diagnostics.begin(), candidate.diagnostics.end(), date) > 0;
  const auto to_test = (candidate.test_date - date).count();
  day.closed = day.blocked || diagnostic || to_test <= rules_.no_training_days_before_test;
  day.fixed_hard = day.fixed_any = diagnostic;
  day.no_hard = day.no_hard || is_eased(candidate, date, rules_);
  for (const FixedWork* work : fixed_on(candidate, date)) add_fixed(day, *work, model_);
  const bool near_march = is_near_march(candidate, date, as_of);
  for (std::size_t k = 0; k < kinds_.size(); ++k) {
    const WorkKind& kind = *kinds_[k];
    const bool spared = near_march && (kind.running || kind.heavy_lower);
    const bool too_late = kind.heavy_lower && to_test <= rules_.no_deadlift_days;
    const auto back = days_back(static_cast<int>(k), date);
    const bool gentle = back && *back < rules_.easy_days_back;
    if (gentle) day.gentle |= 1U << k;
    const bool too_fast = gentle && is_fast_running(kind);
    if (!day.closed && !spared && !too_late && !too_fast && is_permitted(candidate, kind.id, date))
      day.allowed |= 1U << k;
  }
}

bool Calendar::is_near_march(const Candidate& candidate, Date date, Date as_of) const {
  for (int shift = -1; shift <= 1; ++shift) {
    if (date + Days(shift) < as_of) continue;
    for (const FixedWork* work : fixed_on(candidate, date + Days(shift))) {
      if (long_march(*work, model_.find_fixed(work->work), rules_)) return true;
    }
  }
  return false;
}

Placement Calendar::place(const Pack& pack, const PlaceRequest& request, int most_steps) const {
  Placer placer(*this, rules_, request, most_steps);
  return placer.run(pack);
}

}  // namespace backplan

#include "core/filling.hpp"

#include <algorithm>

namespace backplan {
namespace {

constexpr int kMostTakenOut = 12;          // blocks
constexpr std::size_t kMostOfALayer = 64;  // packs with as many blocks taken out: the first ones found

// Packs with one block fewer or shorter, hard ones first.
std::vector<Pack> lighter(const Pack& pack, const std::vector<const WorkKind*>& kinds) {
  std::vector<Pack> out;
  for (const bool hard : {true, false}) {
    for (std::size_t k = 0; k < kinds.size(); ++k) {
      if (kinds[k]->hard != hard) continue;
      const KindCount& n = pack.kinds[k];
      const auto less = [&](int full, int shorter, int home) {
        Pack one = pack;
        one.kinds[k].full = static_cast<std::uint8_t>(n.full + full);
        one.kinds[k].shorter = static_cast<std::uint8_t>(n.shorter + shorter);
        one.kinds[k].home = static_cast<std::uint8_t>(n.home + home);
        out.push_back(one);
      };
      if (n.full > 0) less(-1, 1, 0);
      if (n.shorter > 0) less(0, -1, 0);
      if (n.home > 0) less(0, 0, -1);
    }
  }
  return out;
}

std::vector<Pack> lighter(const std::vector<Pack>& layer, const std::vector<const WorkKind*>& kinds) {
  std::vector<Pack> out;
  for (const Pack& pack : layer) {
    for (const Pack& less : lighter(pack, kinds)) {
      if (out.size() < kMostOfALayer && std::find(out.begin(), out.end(), less) == out.end())
        out.push_back(less);
    }
  }
  return out;
}

}  // namespace

int median_of_last(std::vector<int> minutes, std::size_t n) {
  if (minutes.empty()) return 0;
  if (minutes.size() > n) minutes.erase(minutes.begin(), minutes.end() - static_cast<std::ptrdiff_t>(n));
  std::sort(minutes.begin(), minutes.end());
  return minutes.size() % 2 == 1 ? minutes[minutes.size() / 2]
                                 : (minutes[minutes.size() / 2 - 1] + minutes[minutes.size() / 2]) / 2;
}

Laid::Laid(const Calendar& calendar) : calendar_(calendar) {
  for (const CalendarDay& day : calendar.days()) {
    hard_.push_back(day.fixed_hard);
    lift_.push_back(false);
    intervals_.push_back(false);
  }
}

void Laid::add(int first, const std::vector<PlacedDay>& days) {
  for (std::size_t i = 0; i < days.size(); ++i) {
    const std::size_t at = static_cast<std::size_t>(first) + i;
    for (const PlacedBlock& block : days[i].blocks) {
      const Calendar::Traits& traits = calendar_.traits(block.kind);
      if (traits.hard || block.rehearsal) hard_[at] = true;
      if (traits.lift) lift_[at] = true;
      if (traits.intervals) intervals_[at] = true;
    }
  }
}

Surroundings Laid::around(int first, int count, const SoFar& so_far, Date today) const {
  const auto at = [](const std::vector<bool>& flags, int i) {
    return i >= 0 && i < static_cast<int>(flags.size()) && flags[static_cast<std::size_t>(i)];
  };
  const auto done = [&](int days_ago) { return so_far.on(today - Days(days_ago)); };
  Surroundings out;
  out.hard_before = at(hard_, first - 1);
  out.hard_two_before = at(hard_, first - 2);
  out.hard_after = at(hard_, first + count);
  out.hard_two_after = at(hard_, first + count + 1);
  out.lift_before = at(lift_, first - 1);
  out.intervals_before = at(intervals_, first - 1);
  if (first == 0) {
    if (const TrainedDay* yesterday = done(1)) {
      out.hard_before = yesterday->hard;
      out.lift_before = yesterday->lift;
      out.intervals_before = yesterday->intervals;
    }
    const TrainedDay* before_that = done(2);
    out.hard_two_before = before_that != nullptr && before_that->hard;
  } else if (first == 1) {
    const TrainedDay* yesterday = done(1);
    out.hard_two_before = yesterday != nullptr && yesterday->hard;
  }
  return out;
}

Filling::Filling(const Calendar& calendar, const Segment& segment, const PlaceRequest& request,
                 const Pack& beside)
    : calendar_(calendar), segment_(segment), request_(request), beside_(beside) {
  placement_ = calendar_.place(pack_, request_);
}

bool Filling::take(const Pack& pack) {
  Placement placement = calendar_.place(pack, request_);
  if (placement.outcome != Placing::done) return false;
  pack_ = pack;
  placement_ = std::move(placement);
  return true;
}

int Filling::most_of(std::size_t kind) const {
  const Calendar::Traits& traits = calendar_.traits(static_cast<int>(kind));
  if (traits.lift) return calendar_.rules().deadlifts_a_week;
  return traits.intervals ? segment_.most_intervals : kMostOfAKind;
}

bool Filling::add(std::size_t kind) {
  Pack more = pack_;
  more.kinds[kind].shorter += 1;
  const int slots = more.kinds[kind].full + more.kinds[kind].shorter + beside_.kinds[kind].full +
                    beside_.kinds[kind].shorter;
  if (slots > most_of(kind) || calendar_.hard_blocks(more) > segment_.most_hard) return false;
  return take(more);
}

void Filling::take_or_lighten(const Pack& wanted) {
  std::vector<Pack> layer{wanted};
  const bool may_rehearse = request_.rehearse;
  for (int taken_out = 0; taken_out < kMostTakenOut; ++taken_out) {
    for (const Pack& pack : layer) {
      for (const bool rehearse : {true, false}) {
        if (rehearse && !may_rehearse) continue;
        if (calendar_.hard_blocks(pack) + (rehearse ? 1 : 0) > segment_.most_hard) continue;
        request_.rehearse = rehearse;
        if (take(pack)) return;
      }
    }
    layer = lighter(layer, calendar_.kinds());
  }
  request_.rehearse = may_rehearse;
}

}  // namespace backplan

// The days between today and the test, and the placing of a week's blocks in them.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/planner.hpp"
#include "backplan/suited.hpp"

namespace backplan {

inline constexpr int kPlacingSteps = 3000;

// Blocks of a week by kind and size.
struct KindCount {
  std::uint8_t full = 0, shorter = 0, home = 0;
  [[nodiscard]] std::uint8_t& of(BlockSize size) {
    if (size == BlockSize::full) return full;
    return size == BlockSize::shorter ? shorter : home;
  }
  [[nodiscard]] int of(BlockSize size) const {
    if (size == BlockSize::full) return full;
    return size == BlockSize::shorter ? shorter : home;
  }
  friend auto operator<=>(const KindCount&, const KindCount&) = default;
};
struct Pack {
  std::array<KindCount, kMostKinds> kinds{};
  friend auto operator<=>(const Pack&, const Pack&) = default;
};

// One day as the rules see it before anything is planned.
struct CalendarDay {
  Date date;
  int slot = 0;    // minutes offered
  int usable = 0;  // minutes that blocks can fill
  bool blocked = false;
  bool closed = false;   // no training at all: diagnostic, day before the test, blocked
  bool no_hard = false;  // night shift, after a field spell, beside a diagnostic
  bool fixed_hard = false;
  bool fixed_any = false;  // fixed work or a diagnostic
  std::string fixed_name;
  int fixed_minutes = 0;
  std::optional<Metres> fixed_distance;  // of the one fixed work of the day
  Metres fixed_run{0.0};
  std::uint32_t allowed = 0;  // bit k: kind k may be planned on this day
  std::uint32_t gentle = 0;   // bit k: kind k is just coming back: no full block, no rehearsal
};

struct PlacedBlock {
  int kind = 0;
  BlockSize size = BlockSize::full;
  bool rehearsal = false;
  friend bool operator==(const PlacedBlock&, const PlacedBlock&) = default;
};
struct PlacedDay {
  std::vector<PlacedBlock> blocks;
  int session = 0;  // clock minutes of the slot's blocks
};

// What the placing of a span must know of the days around it.
struct Surroundings {
  bool hard_before = false, hard_two_before = false;  // the last days before the span
  bool hard_after = false, hard_two_after = false;    // fixed hard days after it
  bool lift_before = false, intervals_before = false;
};

// Common mornings: which kinds have a station on which weekday (Monday first). Home blocks need none.
struct Stations {
  std::array<std::uint32_t, 7> kinds{};  // bit k: kind k
  friend bool operator==(const Stations&, const Stations&) = default;
};

enum class Placing { done, impossible, unknown };
struct Placement {
  Placing outcome = Placing::impossible;
  std::vector<PlacedDay> days;
  int minutes = 0;  // sessions and home blocks
};

struct PlaceRequest {
  int first = 0, count = 0;  // days of the calendar
  int most_minutes = 0;
  int most_training_days = 7;     // fixed work counted
  bool rehearse = false;          // the first push-up block is a timed rehearsal
  std::uint32_t only_days = ~0U;  // bit i: day first + i may be used
  Surroundings around;
  std::optional<Stations> stations = std::nullopt;  // none: every kind on every day
};

class Calendar {
 public:
  Calendar(const Candidate& candidate, const Knowledge& knowledge, Date as_of);

  [[nodiscard]] const std::vector<CalendarDay>& days() const { return days_; }
  [[nodiscard]] const std::vector<const WorkKind*>& kinds() const { return kinds_; }
  // Days since a kind of work came back after weeks without it; none where it was not away, or not yet back.
  [[nodiscard]] std::optional<int> days_back(int kind, Date date) const;
  [[nodiscard]] int block_minutes(const PlacedBlock& block) const;
  // Complete search in a fixed order; `unknown` when it was given up after so many steps.
  [[nodiscard]] Placement place(const Pack& pack, const PlaceRequest& request,
                                int most_steps = kPlacingSteps) const;
  [[nodiscard]] int hard_blocks(const Pack& pack) const;
  // Sessions of this kind a week, by the kind and by the rules.
  [[nodiscard]] int most_a_week(std::size_t kind) const;
  [[nodiscard]] const Rules& rules() const { return rules_; }
  // Whether some day may have such work: kit, profile and work to avoid leave it.
  [[nodiscard]] bool ever_allows(std::size_t kind) const;

  // What the placing asks of a kind all the time.
  struct Traits {
    bool hard = false, lift = false, intervals = false, press = false;
  };
  [[nodiscard]] const Traits& traits(int kind) const { return traits_[static_cast<std::size_t>(kind)]; }

 private:
  void fill_day(CalendarDay& day, const Candidate& candidate, Date as_of) const;
  [[nodiscard]] bool is_near_march(const Candidate& candidate, Date date, Date as_of) const;
  std::vector<const WorkKind*> kinds_;
  std::vector<Traits> traits_;
  std::vector<std::vector<Date>> returns_;  // by kind: days on which it comes back
  std::vector<CalendarDay> days_;
  const Rules& rules_;
  const Model& model_;
};

}  // namespace backplan

// The best weekly pack at given prices: exact search over every pack that the days can hold.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "backplan/progress.hpp"
#include "core/calendar.hpp"

namespace backplan {

inline constexpr int kMostHardLeft = 7;  // hard days of a week, whatever the rules say
inline constexpr int kMostOfAKind = 6;   // one a day, one rest day at least
inline constexpr int kMostCost = 600;    // minutes of blocks that a week can hold

// Dose curves of the standard's events, tabulated: stimulus in steps of 1/400, of which
// all of the shipped stimuli are multiples.
class DoseTables {
 public:
  explicit DoseTables(const std::vector<EventState>& states);
  // What a week of one stimulus does. Together in memory: whoever asks for one of them asks for the next.
  struct Effect {
    double gain = 0.0;  // of S
    double loss = 0.0;  // in v
    // The steepest chord to any greater stimulus: an upper bound of what a unit more can bring, and spare.
    double gain_chord = 0.0, loss_chord = 0.0;
  };
  [[nodiscard]] const Effect& at(std::size_t event, double u) const { return effects_[event][index(u)]; }
  [[nodiscard]] double gain(std::size_t event, double u) const { return at(event, u).gain; }
  [[nodiscard]] double loss(std::size_t event, double u) const { return at(event, u).loss; }

 private:
  static constexpr int kStepsPerUnit = 400;
  static constexpr int kMostUnits = 14;
  [[nodiscard]] static std::size_t index(double u) {
    const auto at = static_cast<int>(u * kStepsPerUnit + 0.5 + 1e-6);
    return static_cast<std::size_t>(at < kStepsPerUnit * kMostUnits ? at : kStepsPerUnit * kMostUnits);
  }
  std::vector<std::vector<Effect>> effects_;  // by event, then by stimulus
};

// A week, or the part of one that can be planned, as the allocation sees it.
struct Segment {
  int week = 0;                 // counted back from the test
  int first = 0, count = 0;     // calendar days
  double share = 1.0;           // open days / 7
  std::vector<double> counted;  // by event: the share of a week in which work earns and loses
  int most_minutes = 0;
  int most_hard = 0;
  int most_training_days = 7;
  int most_intervals = 2;
  bool rehearse = false;
  std::uint32_t only_days = ~0U;
  std::vector<double> fixed;  // stimulus of fixed work, by kind
  std::vector<int> done;      // sessions that this week has had before today, by kind; empty: none
  std::optional<Stations> stations = std::nullopt;  // of a squad's common mornings
  std::optional<Pack> kept;  // the only pack there is: days that stay as an earlier plan has them
  std::string days;          // equal: the same placings are possible, given the minutes
  std::string signature;     // equal: the same packs fit and do the same
};

// A pack with what it does in its segment.
struct Column {
  Pack pack;
  int minutes = 0;
  int hard = 0;
  std::vector<double> s, loss;  // by event
  bool sure = true;             // a placing was found; else the search for one was given up
};

struct Prices {
  std::vector<double> s, loss;  // points a unit of S, points a unit of v lost; not negative
};

class PackSearch {
 public:
  PackSearch(const Calendar& calendar, const std::vector<EventState>& states, const DoseTables& tables,
             int home_blocks);

  [[nodiscard]] Column column_of(const Pack& pack, const Segment& segment, int minutes) const;
  [[nodiscard]] double worth(const Column& column, const Prices& prices) const;
  // The column of the highest worth among the packs that fit the segment's days.
  // A pack whose placing was given up counts when `unknown_fits` (for a bound), else not.
  [[nodiscard]] Column best(const Segment& segment, const Prices& prices, bool unknown_fits);
  // A column of high worth, quickly: no proof. Its placing was found.
  [[nodiscard]] Column good(const Segment& segment, const Prices& prices);
  // What is left of a pack once the least valuable blocks are taken out until it fits the segment.
  [[nodiscard]] Column fitted(const Segment& segment, const Pack& pack, const Prices& prices);
  // The same with up to so many blocks more of work that is not hard, as long as they bring something.
  [[nodiscard]] Column filled(const Segment& segment, const Column& from, const Prices& prices, int blocks);
  // Every column of more than this worth, those with a placing given up included; stops after `most`.
  [[nodiscard]] std::vector<Column> all_above(const Segment& segment, const Prices& prices, double worth,
                                              std::size_t most);

 private:
  using Stimuli = std::array<double, kMostEvents>;
  struct Option {
    KindCount count;
    double stimulus = 0.0;
    int cost = 0;    // slot minutes with a change-over each
    int blocks = 0;  // in slots
    int hard = 0;
    int home = 0, home_minutes = 0;
  };
  // What the days of a segment can hold at most, whatever the pack.
  struct Room {
    int capacity = 0;                   // slot minutes, a change-over charged to each block
    int most_blocks = 0;                // in slots
    std::vector<int> least_overhead{};  // by slot minutes: of any sessions that hold so many
    // By kind, once a day at most: days for a full block, for any block in a slot, for any at all.
    std::vector<KindCount> days{};
    [[nodiscard]] bool holds(std::size_t k, const KindCount& n) const;
  };
  struct Search;
  struct Climb;
  void run(Search& search) const;
  void list_options(int home_blocks);
  // Of one kind, the strongest first.
  [[nodiscard]] std::vector<Option> options_of(std::size_t k, int most_home) const;
  [[nodiscard]] std::array<std::vector<double>, kMostHardLeft + 1> most_stimulus_of(
      std::size_t k, const Room& room, const Segment& segment) const;
  // What is known of placing a pack on some days, whatever the minutes allowed.
  struct Known {
    int fits_in = 1 << 20;        // minutes of the shortest placing found
    int impossible_in = -1;       // no placing within so many minutes
    int given_up_in = -1;         // the search was given up at so many
    int soon_given_up_in = -1;    // a quicker one was given up at so many,
    int soon_given_up_after = 0;  // after so many steps
  };
  struct Fit {
    Placing outcome = Placing::impossible;
    int minutes = 0;
  };
  // Looked up only, never walked through: its order does not matter.
  struct PackHash {
    [[nodiscard]] std::size_t operator()(const Pack& pack) const;
  };
  using Memory = std::unordered_map<Pack, Known, PackHash>;
  [[nodiscard]] Fit placed(const Pack& pack, const Segment& segment, Memory& known, int most_steps) const;
  [[nodiscard]] Room room_in(const Segment& segment) const;
  [[nodiscard]] KindCount days_for(std::size_t k, const Segment& segment) const;
  [[nodiscard]] Stimuli fixed_stimuli(const Segment& segment) const;
  [[nodiscard]] double value(const Segment& segment, const Prices& prices, const Stimuli& u) const;
  void remember(const Pack& pack);
  [[nodiscard]] std::vector<Pack> lighter_than(const Pack& pack) const;
  [[nodiscard]] int over_limits(const Pack& pack, const Segment& segment) const;
  [[nodiscard]] double worth_of(const Pack& pack, const Segment& segment, const Prices& prices) const;
  [[nodiscard]] int block_minutes_of(const Pack& pack) const;

  const Calendar& calendar_;
  const std::vector<EventState>& states_;
  const DoseTables& tables_;
  int home_blocks_;
  std::vector<std::vector<Option>> options_;   // by kind
  std::vector<std::vector<double>> transfer_;  // event x kind
  std::vector<double> per_minute_;             // by kind: most stimulus a slot minute
  double most_home_stimulus_ = 0.0;            // of one home block
  std::vector<std::size_t> order_;             // of the kinds in the search
  std::map<std::string, Memory> memory_;       // by the days' signature
  std::vector<Pack> winners_;                  // that were best on some days at some prices
  std::map<std::string, int> seeded_;          // how often seeds were tried, by the same
};

// Sessions of a kind that the week has had already.
[[nodiscard]] int done_of(const Segment& segment, std::size_t kind);

[[nodiscard]] PlaceRequest request_for(const Segment& segment);

}  // namespace backplan

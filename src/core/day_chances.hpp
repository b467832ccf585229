// The chances of one test day: of the rows of each event inside the nodes of the common factor, and of the
// total, convolved over them. docs/mathematics.md, "Outlook".
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "backplan/outlook.hpp"

namespace backplan {

// Gauss-Hermite nodes of the common factor, as in progress.cpp.
inline constexpr std::array<double, 5> kCommonNodes{-2.856970013872806, -1.355626179974266, 0.0,
                                                    1.355626179974266, 2.856970013872806};
inline constexpr std::array<double, 5> kCommonWeights{0.011257411327721, 0.222075922005613, 0.533333333333333,
                                                      0.222075922005613, 0.011257411327721};
inline constexpr double kTenTh = 10.0;    // tenths of a point in a point
inline constexpr double kNoFloor = -1e9;  // of a total: under every total

// How much the points of an event count in the total.
[[nodiscard]] double weight_of(const Standard& standard, const std::string& event);

// The least points of each event, where it has any.
using Floors = std::vector<std::optional<Points>>;
[[nodiscard]] Floors pass_floors(const Category& category, const std::vector<EventState>& states);
[[nodiscard]] Floors target_floors(const Candidate& candidate, const Category& category,
                                   const std::vector<EventState>& states);
// And of the total.
[[nodiscard]] double pass_total(const Category& category);
[[nodiscard]] double target_total(const Category& category, const Target& target);

struct Total {
  std::vector<double> p;  // from `least` on, in steps of `step`
  int least = 0;          // tenths of a point
  int step = 1;           // tenths of a point: whole points where the scales have nothing finer
  [[nodiscard]] double points(std::size_t i) const { return (least + static_cast<int>(i) * step) / kTenTh; }
};

// P(a total of so many points or more).
[[nodiscard]] double mass(const Total& total, double at_least_points);

// What is passed must outlive it.
class DayChances {
 public:
  DayChances(const std::vector<EventState>& states, const Standard& standard, const Category& category,
             const Model& model, const Dosage& dosage);

  // P(every event at its floor or better), and the distribution of the total over those days.
  // `floors` by event; none: the lowest row of the scale.
  [[nodiscard]] Total total_over(const Floors& floors) const;
  [[nodiscard]] double p_at_least(std::size_t event, Points points) const;
  [[nodiscard]] const AbilityScale& scale(std::size_t event) const { return scales_[event]; }

 private:
  // Probabilities of one event's rows inside one node of the common factor.
  struct RowChances {
    std::vector<double> at;  // by row, ascending
  };

  void set_tenths();
  [[nodiscard]] std::vector<RowChances> chances_at(double z) const;
  void add_node(RowChances& rows, std::size_t e, const EventState::Node& node, double z) const;
  [[nodiscard]] Total convolve(const std::vector<RowChances>& chances, const Floors& floors) const;

  const std::vector<EventState>& states_;
  const Standard& standard_;
  double share_;
  const Dosage& dosage_;
  int step_ = 0;  // of the totals
  std::vector<AbilityScale> scales_;
  std::vector<std::vector<int>> tenths_;  // by event and row: what a row adds to the total
  std::vector<std::vector<RowChances>> by_node_;
};

}  // namespace backplan

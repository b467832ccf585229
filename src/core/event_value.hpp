// What an event's share of the season is worth: F(S, L), points for so much S and so much v lost.
#pragma once

#include <vector>

#include "backplan/outlook.hpp"

namespace backplan {

// On a grid, bilinear between its nodes; rises with S, falls with L. The nodes of L lie closer where
// little is lost: there most plans are.
class EventValue {
 public:
  // `weight` points for each expected point, less `cost` for a sure miss of the minimum.
  EventValue(const EventState& state, const AbilityScale& scale, double weight, double cost, double most_s,
             double most_loss);
  [[nodiscard]] double at(double s, double loss) const;
  [[nodiscard]] int s_nodes() const { return static_cast<int>(s_.size()); }
  [[nodiscard]] int loss_nodes() const { return static_cast<int>(loss_.size()); }
  [[nodiscard]] double s_of(int i) const { return s_[static_cast<std::size_t>(i)]; }
  [[nodiscard]] double loss_of(int j) const { return loss_[static_cast<std::size_t>(j)]; }
  [[nodiscard]] double node(int i, int j) const {
    return f_[static_cast<std::size_t>(i) * loss_.size() + static_cast<std::size_t>(j)];
  }
  // The same in nodes, with a fraction: from 0 to the last node.
  [[nodiscard]] double place_of_s(double s) const;
  [[nodiscard]] double place_of_loss(double loss) const;

 private:
  std::vector<double> s_, loss_;
  std::vector<double> f_;
};

}  // namespace backplan

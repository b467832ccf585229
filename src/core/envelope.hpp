// The least concave curve over what an event's share of the season is worth: where on it a price of S puts
// the event is found by halving, not by trying every node.
#pragma once

#include <vector>

#include "core/event_value.hpp"

namespace backplan {

// Of one event, over the nodes of a box: from `low` to `high`, both in it.
class Envelope {
 public:
  struct Span {
    int low = 0, high = 0;
  };
  Envelope(const EventValue& value, Span s, Span loss);

  struct Peak {
    double worth = 0.0;
    int at_s = 0, at_loss = 0;  // nodes
  };
  // The greatest F(S, L) - price_s S + price_loss L over the nodes. Prices are not negative.
  [[nodiscard]] Peak peak(double price_s, double price_loss) const;

 private:
  const EventValue& value_;
  int low_loss_;
  // For each node of L the nodes of S on the concave curve, the least first, and the slope to the next.
  struct Corner {
    int node = 0;
    double slope = 0.0;
  };
  std::vector<std::vector<Corner>> rows_;
};

}  // namespace backplan

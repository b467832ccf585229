#include "core/envelope.hpp"

#include <algorithm>
#include <limits>

namespace backplan {

Envelope::Envelope(const EventValue& value, Span s, Span loss) : value_(value), low_loss_(loss.low) {
  for (int j = loss.low; j <= loss.high; ++j) {
    std::vector<Corner>& row = rows_.emplace_back();
    const auto slope = [&](int from, int to) {
      return (value.node(to, j) - value.node(from, j)) / (value.s_of(to) - value.s_of(from));
    };
    // From the right: a corner that lies under the chord over it goes.
    for (int i = s.high; i >= s.low; --i) {
      while (row.size() > 1 && slope(i, row.back().node) <= row.back().slope) row.pop_back();
      row.push_back({i, row.empty() ? -std::numeric_limits<double>::infinity() : slope(i, row.back().node)});
    }
    std::reverse(row.begin(), row.end());
  }
}

Envelope::Peak Envelope::peak(double price_s, double price_loss) const {
  Peak best{-std::numeric_limits<double>::infinity(), 0, 0};
  for (std::size_t row = 0; row < rows_.size(); ++row) {
    const int j = low_loss_ + static_cast<int>(row);
    // Slopes fall along the row: the peak is the first corner from which a step on costs as much as it gives.
    const auto at = std::partition_point(rows_[row].begin(), rows_[row].end(),
                                         [&](const Corner& corner) { return corner.slope > price_s; });
    const double worth =
        value_.node(at->node, j) - price_s * value_.s_of(at->node) + price_loss * value_.loss_of(j);
    if (worth > best.worth) best = {worth, at->node, j};
  }
  return best;
}

}  // namespace backplan

#include "core/column_counts.hpp"

#include <cmath>

namespace backplan {
namespace {

constexpr double kLeastGain = 1e-7;  // of an exchange

}  // namespace

ColumnCounts::ColumnCounts(const std::vector<EventValue>& values, const std::vector<ClosingGroup>& groups)
    : values_(values), groups_(groups) {
  for (const ClosingGroup& group : groups) {
    first_.push_back(columns_.size());
    for (const Column& column : group.columns) columns_.push_back(&column);
  }
  first_.push_back(columns_.size());
}

ColumnCounts::Sums ColumnCounts::sums_of(const std::vector<int>& counts) const {
  Sums sums{std::vector<double>(values_.size(), 0.0), std::vector<double>(values_.size(), 0.0)};
  for (std::size_t c = 0; c < counts.size(); ++c) {
    if (counts[c] == 0) continue;
    for (std::size_t e = 0; e < values_.size(); ++e) {
      sums.s[e] += counts[c] * columns_[c]->s[e];
      sums.loss[e] += counts[c] * columns_[c]->loss[e];
    }
  }
  return sums;
}

std::vector<std::vector<int>> ColumnCounts::by_group(const std::vector<int>& counts) const {
  std::vector<std::vector<int>> out;
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    out.emplace_back(counts.begin() + static_cast<std::ptrdiff_t>(first_[g]),
                     counts.begin() + static_cast<std::ptrdiff_t>(first_[g + 1]));
  }
  return out;
}

double ColumnCounts::value_of(const std::vector<int>& counts) const {
  const Sums sums = sums_of(counts);
  double sum = 0.0;
  for (std::size_t e = 0; e < values_.size(); ++e) sum += values_[e].at(sums.s[e], sums.loss[e]);
  return sum;
}

std::vector<int> ColumnCounts::rounded(const std::vector<double>& means) const {
  std::vector<int> counts(columns_.size(), 0);
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    int left = groups_[g].weeks;
    for (std::size_t c = first_[g]; c < first_[g + 1]; ++c) {
      counts[c] = static_cast<int>(std::floor(means[c]));
      left -= counts[c];
    }
    while (left-- > 0) {
      std::size_t most = first_[g];
      for (std::size_t c = first_[g]; c < first_[g + 1]; ++c) {
        if (means[c] - counts[c] > means[most] - counts[most]) most = c;
      }
      ++counts[most];
    }
  }
  return counts;
}

double ColumnCounts::moved_value(const Sums& sums, std::size_t from, std::size_t to) const {
  double sum = 0.0;
  for (std::size_t e = 0; e < values_.size(); ++e) {
    sum += values_[e].at(sums.s[e] + columns_[to]->s[e] - columns_[from]->s[e],
                         sums.loss[e] + columns_[to]->loss[e] - columns_[from]->loss[e]);
  }
  return sum;
}

ColumnCounts::Move ColumnCounts::best_move(const std::vector<int>& counts, double value) const {
  const Sums sums = sums_of(counts);
  Move best{0, 0, value + kLeastGain};
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    for (std::size_t from = first_[g]; from < first_[g + 1]; ++from) {
      if (counts[from] == 0) continue;
      for (std::size_t to = first_[g]; to < first_[g + 1]; ++to) {
        if (to == from || !columns_[to]->sure) continue;
        const double moved = moved_value(sums, from, to);
        if (moved > best.value) best = {from, to, moved};
      }
    }
  }
  return best;
}

std::vector<int> ColumnCounts::exchanged(std::vector<int> counts) const {
  double value = value_of(counts);
  for (;;) {
    const Move move = best_move(counts, value);
    if (move.from == move.to) return counts;
    --counts[move.from];
    ++counts[move.to];
    value = move.value;
  }
}

}  // namespace backplan

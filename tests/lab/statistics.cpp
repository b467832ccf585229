#include "lab/statistics.hpp"

#include <cmath>
#include <stdexcept>

namespace backplan::lab {
namespace {

constexpr double kZ95 = 1.959963984540054;  // of the normal distribution: cells are large

void require_pairs(const std::vector<double>& a, const std::vector<double>& b) {
  if (a.size() != b.size()) throw std::logic_error("pairs of unequal length");
}

}  // namespace

Estimate mean_of(const std::vector<double>& values) {
  Estimate out;
  const auto n = static_cast<double>(values.size());
  if (values.empty()) return out;
  for (const double value : values) out.value += value / n;
  if (values.size() < 2) return out;
  double squares = 0.0;
  for (const double value : values) squares += (value - out.value) * (value - out.value);
  out.half = kZ95 * std::sqrt(squares / (n - 1.0) / n);
  return out;
}

Estimate paired_difference(const std::vector<double>& a, const std::vector<double>& b) {
  require_pairs(a, b);
  std::vector<double> differences;
  for (std::size_t i = 0; i < a.size(); ++i) differences.push_back(a[i] - b[i]);
  return mean_of(differences);
}

Estimate paired_ratio(const std::vector<double>& a, const std::vector<double>& b) {
  require_pairs(a, b);
  const double below = mean_of(b).value;
  if (below == 0.0) return {};
  const double ratio = mean_of(a).value / below;
  std::vector<double> left;  // what the ratio leaves open, person by person
  for (std::size_t i = 0; i < a.size(); ++i) left.push_back((a[i] - ratio * b[i]) / below);
  return {ratio, mean_of(left).half};
}

}  // namespace backplan::lab

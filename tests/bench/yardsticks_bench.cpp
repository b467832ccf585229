// Work of a known size in plain code, timed in the same run: what the other times are read against
// when machines differ.
#include <benchmark/benchmark.h>

#include <Eigen/Dense>
#include <cstddef>
#include <vector>

#include "support/random_source.hpp"

namespace backplan::bench {
namespace {

void least_squares_200_by_20(benchmark::State& state) {
  constexpr int kRows = 200;
  constexpr int kColumns = 20;
  testing::RandomSource random(1);
  Eigen::MatrixXd design(kRows, kColumns);
  Eigen::VectorXd target(kRows);
  for (int row = 0; row < kRows; ++row) {
    for (int column = 0; column < kColumns; ++column) design(row, column) = random.normal();
    target(row) = random.normal();
  }
  for (auto _ : state) {
    const Eigen::VectorXd fit = design.householderQr().solve(target);
    benchmark::DoNotOptimize(fit.data());
  }
}

std::vector<double> convolve(const std::vector<double>& a, const std::vector<double>& b) {
  std::vector<double> sum(a.size() + b.size() - 1, 0.0);
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t j = 0; j < b.size(); ++j) sum[i + j] += a[i] * b[j];
  }
  return sum;
}

// The distribution of the sum of five events of 41 rows each.
void convolution_of_five_by_41(benchmark::State& state) {
  constexpr std::size_t kEvents = 5;
  constexpr std::size_t kRows = 41;
  testing::RandomSource random(1);
  std::vector<std::vector<double>> events(kEvents, std::vector<double>(kRows));
  for (auto& event : events) {
    for (double& probability : event) probability = random.real() / static_cast<double>(kRows);
  }
  for (auto _ : state) {
    std::vector<double> total{1.0};
    for (const auto& event : events) total = convolve(total, event);
    benchmark::DoNotOptimize(total.data());
  }
}

BENCHMARK(least_squares_200_by_20)->Unit(benchmark::kMicrosecond);
BENCHMARK(convolution_of_five_by_41)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace backplan::bench

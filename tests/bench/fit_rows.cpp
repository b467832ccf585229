// The fit of the two-year journal, event by event, as JSON: its rows and priors, what it found, and the time
// it took. beside_scipy.py fits the same rows with a general-purpose library.
#include <algorithm>
#include <chrono>
#include <iostream>

#include "bench/subjects.hpp"
#include "bench/two_years.hpp"
#include "core/fit_record.hpp"
#include "io/json_write.hpp"

namespace backplan::bench {
namespace {

constexpr int kRuns = 20;
constexpr double kMillisecondsInSecond = 1000.0;

io::Json rows_json(const GrowthTask& task) {
  io::Json rows = io::Json::array();
  for (const GrowthRow& row : task.rows) {
    rows.push_back({{"y", row.y},
                    {"s", row.s},
                    {"variance", row.variance},
                    {"stray", row.stray},
                    {"bound", row.bound},
                    {"headroom", row.headroom},
                    {"shared", {row.setting, row.conversion, row.exponent}}});
  }
  return rows;
}

io::Json fitted(const EventRecord& record, double s_now) {
  GrowthFit fit;
  const auto began = std::chrono::steady_clock::now();
  for (int run = 0; run < kRuns; ++run) fit = fit_growth(record.task, s_now);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
  double now = 0.0;
  double square = 0.0;
  for (const GrowthNode& node : fit.nodes) {
    const double g = growth_share(node.k, s_now);
    const auto& x = node.fit.estimate;
    const auto& c = node.fit.covariance;
    const double mean = x[kLevel] + g * x[kHeadroom];
    const double variance = c[0] + 2.0 * g * c[1] + g * g * c[kGrowthColumns + 1];
    now += node.weight * mean;
    square += node.weight * (variance + mean * mean);
  }
  io::Json json;
  json["event"] = record.event->id;
  json["rows"] = rows_json(record.task);
  json["h"] = {record.task.h, record.task.h_sd};
  json["log_k"] = {record.task.log_k, record.task.log_k_sd};
  json["v0"] = record.task.v0 ? io::Json({*record.task.v0, record.task.v0_sd}) : io::Json(nullptr);
  json["s_now"] = s_now;
  json["now"] = {now, square - now * now};
  json["flagged"] = std::count(fit.flagged.begin(), fit.flagged.end(), true);
  json["ms"] = kMillisecondsInSecond * took.count() / kRuns;
  return json;
}

void print_all() {
  const Candidate& candidate = demo_candidate("rowan");
  const Knowledge knowledge = demo_knowledge();
  const auto days = days_done(two_years(), knowledge.model, demo_day());
  io::Json all = io::Json::array();
  for (const Event& event : knowledge.standard.events) {
    const EventRecord record =
        record_of(event, candidate, knowledge.standard, knowledge.model, demo_day(), two_years(), days);
    all.push_back(fitted(record, record.dose.s_on(demo_day())));
  }
  std::cout << io::one_line(all) << '\n';
}

}  // namespace
}  // namespace backplan::bench

int main() {
  backplan::bench::print_all();
  return 0;
}

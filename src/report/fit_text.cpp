#include "report/fit_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "backplan/numeric.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr double kToldApart = 0.4;      // spread of the speed over the speed above which nothing is said
constexpr double kAsAssumed = 1.25;     // nearer than this to one, either way: as assumed
constexpr double kNearTwice = 1.15;     // nearer than this to two or a half
constexpr double kWorthTelling = 0.01;  // a deviation, in v
constexpr double kShareShown = 0.005;   // prints as 1 %
constexpr double kSurely = 1.2815515655446004;  // deviations of it from none: nine in ten on one side

bool is_near(double ratio, double to) { return ratio < to * kNearTwice && ratio > to / kNearTwice; }

std::string percent(double v) { return fmt::format("{:.0f} %", 100.0 * std::fabs(numeric::exp(v) - 1.0)); }

bool is_told(const std::optional<Learnt>& learnt) {
  return learnt && std::fabs(learnt->found) > kWorthTelling &&
         std::fabs(learnt->found) > kSurely * learnt->found_sd;
}

std::vector<std::string> lessons(const FitReport& report) {
  std::vector<std::string> out;
  if (std::string speed = speed_text(report); !speed.empty()) out.push_back(std::move(speed));
  if (report.lost > kWorthTelling) {
    out.push_back(
        fmt::format("{} of the level was lost in gaps and comes back with training", percent(-report.lost)));
  }
  if (is_told(report.conversion)) {
    out.push_back(fmt::format("your sets promise {} {} than you show", percent(report.conversion->found),
                              report.conversion->found > 0.0 ? "more" : "less"));
  }
  if (is_told(report.setting)) {
    out.push_back(fmt::format("results alone or self-counted read {} {} than usual",
                              percent(report.setting->found),
                              report.setting->found > 0.0 ? "higher" : "lower"));
  }
  if (report.exponent) {
    out.push_back(fmt::format("your times grow with the distance to the power {:.2f} (usual: {:.2f})",
                              report.exponent->found, report.exponent->assumed));
  }
  return out;
}

// In whole per cent that sum to 100.
std::string shares_text(const FitReport& report) {
  const auto log = static_cast<int>(std::floor(100.0 * report.share_log + 0.5));
  const auto results = std::min(100 - log, static_cast<int>(std::floor(100.0 * report.share_results + 0.5)));
  return fmt::format("{} % of what is known is from the log, {} % from results, {} % is what is usual", log,
                     results, 100 - log - results);
}

std::string flagged_text(const FlaggedEntry& entry, const std::string& event, const Names& names) {
  const std::string which = entry.id.empty() ? "a result of candidate.json" : "entry " + entry.id;
  return fmt::format("{}, {}: reads as {}, {} (about {}). It is kept but hardly counts.",
                     short_date(entry.date), which, names.estimate(event, entry.says), entry.reason,
                     names.estimate(event, entry.expected));
}

// Whether an entry moved what is known of the event, or cost some of its level.
bool taught(const FitReport& report) {
  return report.share_log >= kShareShown || report.lost > kWorthTelling || !report.flagged.empty();
}

std::string event_text(const FitReport& report, const Names& names) {
  const double low = std::min(report.now_low80, report.now_high80);
  const double high = std::max(report.now_low80, report.now_high80);
  const std::string head =
      fmt::format("{}: {} now, 8 in 10 between {} and {}{}", names.event(report.event),
                  names.estimate(report.event, report.now_result), names.estimate(report.event, low),
                  names.estimate(report.event, high), report.measured ? "" : " (never measured)");
  std::string text = wrap(head, kPageWidth, "    ", "  ");
  std::vector<std::string> told = lessons(report);
  told.push_back(shares_text(report));
  text += wrap(fmt::format("{}.", fmt::join(told, "; ")), kPageWidth, "    ", "    ");
  for (const FlaggedEntry& entry : report.flagged) {
    text += wrap(flagged_text(entry, report.event, names), kPageWidth, "      ", "    - ");
  }
  return text;
}

}  // namespace

std::string speed_text(const FitReport& report) {
  const double ratio = report.speed_ratio;
  if (!(report.speed_ratio_sd < kToldApart * std::max(1.0, ratio))) return {};
  if (ratio < kAsAssumed && ratio > 1.0 / kAsAssumed) return "answers about as fast as assumed";
  if (is_near(ratio, 2.0)) return "answers twice as fast as assumed";
  if (is_near(ratio, 0.5)) return "answers half as fast as assumed";
  if (ratio > 1.0) return fmt::format("answers {:.1f} times as fast as assumed", ratio);
  return fmt::format("answers slower than assumed ({:.0f} % of it)", 100.0 * ratio);
}

std::string fit_text(const std::vector<FitReport>& reports, const Names& names) {
  if (reports.empty()) return {};
  std::string text = "What the log taught\n";
  std::vector<std::string> others;
  for (const FitReport& report : reports) {
    if (taught(report))
      text += event_text(report, names);
    else
      others.push_back(names.event(report.event));
  }
  if (others.empty()) return text;
  return text + wrap(fmt::format("Nothing of {}.", fmt::join(others, ", ")), kPageWidth, "    ", "  ");
}

}  // namespace backplan::report

#include "backplan/score.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <stdexcept>
#include <utility>

namespace backplan {
namespace {

// Results are printed to a hundredth at most: no event of any standard is measured finer.
constexpr double kPrintedParts = 100.0;

// Whole hundredths without trailing zeros: "8.4", "220", "12.55".
std::string trimmed(double value) {
  std::string text = fmt::format("{:.2f}", value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

// "05", "5" or nothing for 5 or 50 or 0 hundredths: at least `least` decimals, no zeros beyond them.
std::string decimals_of(std::int64_t hundredths, std::size_t least) {
  std::string text = fmt::format("{:02}", hundredths);
  while (text.size() > least && text.back() == '0') text.pop_back();
  return text.empty() ? text : "." + text;
}

// With `decimals` at least.
std::string format_time(double seconds, std::size_t decimals = 0) {
  const auto parts = static_cast<std::int64_t>(std::floor(seconds * kPrintedParts + 0.5));
  const auto per_second = static_cast<std::int64_t>(kPrintedParts);
  const std::int64_t whole = parts / per_second;
  const std::string rest = decimals_of(parts % per_second, decimals);
  // A sprint: nobody writes its minutes.
  if (whole < 60 && !rest.empty()) return fmt::format("{}{} s", whole, rest);
  const std::int64_t hours = whole / 3600;
  const std::int64_t minutes = whole / 60 % 60;
  return (hours > 0 ? fmt::format("{}:{:02}:{:02}", hours, minutes, whole % 60)
                    : fmt::format("{}:{:02}", minutes, whole % 60)) +
         rest;
}

std::string row_words(const Row& row, const Event& event) {
  return fmt::format("{} for {} point{}", format_result(row.result, event), to_string(row.points),
                     row.points == Points::whole(1) ? "" : "s");
}

// Judges one event; says why in `reasons` when it does not reach what the category asks.
bool event_passes(const EventScore& score, const Event& event, const Scale& scale, const Category& category,
                  bool pass_or_fail, std::vector<std::string>& reasons) {
  const std::string done = format_result(*score.result, event);
  if (!score.points) {
    reasons.push_back(fmt::format("{}: {} is below the lowest row of the scale, {}", event.id, done,
                                  row_words(scale.rows().front(), event)));
    return false;
  }
  const std::optional<Points> least = category.minimum_of(event.id);
  if (!least || *score.points >= *least) return true;
  if (pass_or_fail) {
    const Row& mark = scale.rows().front();
    reasons.push_back(
        fmt::format("{}: {} does not pass, {} needed", event.id, done, format_result(mark.result, event)));
    return false;
  }
  std::string reason = fmt::format("{}: {} earns {} points, at least {} needed", event.id, done,
                                   to_string(*score.points), to_string(*least));
  if (const auto row = scale.row_for(*least)) {
    reason += fmt::format(" ({})", row_words(*row, event));
  }
  reasons.push_back(std::move(reason));
  return false;
}

bool total_passes(Points total, const Category& category, std::vector<std::string>& reasons) {
  if (!category.total_minimum) return true;
  const bool enough = total >= *category.total_minimum;
  reasons.push_back(
      fmt::format("total {}, at least {} needed", to_string(total), to_string(*category.total_minimum)));
  return enough;
}

EventScore score_event(const DatedResult* result, const Event& event, const Scale& scale) {
  EventScore score;
  score.event = event.id;
  if (result == nullptr) return score;
  const Score found = scale.score(result->value);
  score.result = result->value;
  score.points = found.points;
  score.origin = found.origin;
  score.next = scale.next_row(result->value);
  return score;
}

const Scale& required_scale(const Standard& standard, const Event& event, const std::string& column, int age,
                            const Category& category) {
  const Scale* scale = standard.scale_for(event, column, age, category);
  // The candidate reader refuses ages and columns that the standard does not score.
  if (scale == nullptr) throw std::logic_error("no scale for " + event.id + " at this age and column");
  return *scale;
}

std::string scored_column(const Standard& standard, const Category& category, const std::string& own) {
  if (!category.column.empty()) return category.column;
  return standard.columns.size() == 1 ? standard.columns.front() : own;
}

}  // namespace

const DatedResult* latest_result(const std::vector<DatedResult>& results, const Event& event) {
  const auto better = [&](double a, double b) {
    return event.direction == Direction::more_is_better ? a > b : a < b;
  };
  const DatedResult* best = nullptr;
  for (const DatedResult& each : results) {
    if (each.event != event.id) continue;
    if (best == nullptr || each.date > best->date ||
        (each.date == best->date && better(each.value, best->value))) {
      best = &each;
    }
  }
  return best;
}

ScoreCard score_results(const std::vector<DatedResult>& results, const Standard& standard,
                        const Category& category, const std::string& column, int age) {
  ScoreCard card{standard.id,
                 category.id,
                 scored_column(standard, category, column),
                 age,
                 standard.band_of(age).value_or(AgeBand{}),
                 {},
                 {},
                 {},
                 {}};
  bool all_measured = true;
  bool all_pass = true;
  std::vector<std::pair<std::string, Points>> points;
  for (const Event& event : standard.events) {
    const Scale& scale = required_scale(standard, event, column, age, category);
    EventScore score = score_event(latest_result(results, event), event, scale);
    if (!score.result) {
      all_measured = false;
      card.reasons.push_back(fmt::format("{}: no result yet", event.id));
    } else if (!event_passes(score, event, scale, category, standard.pass_or_fail, card.reasons)) {
      all_pass = false;
    }
    if (score.points) points.emplace_back(event.id, *score.points);
    card.events.push_back(std::move(score));
  }
  if (points.size() == standard.events.size()) {
    card.total = total_of(standard, points);
    all_pass = total_passes(*card.total, category, card.reasons) && all_pass;
  }
  if (all_measured) card.pass = all_pass;
  return card;
}

Points total_of(const Standard& standard, const std::vector<std::pair<std::string, Points>>& points) {
  // Tenths that do not come out whole are cut, as points are: nobody passes by rounding up.
  std::int32_t tenths = 0;
  double weighted = 0.0;
  for (const auto& [event, each] : points) {
    tenths += each.tenths();
    const auto weight = standard.weights.find(event);
    weighted += each.tenths() * (weight == standard.weights.end() ? 1.0 : weight->second);
  }
  switch (standard.total) {
    case TotalKind::sum:
      return Points::from_tenths(tenths);
    case TotalKind::weighted: {
      constexpr double kSlack = 1e-6;  // decimal weights such as 0.6 are not exact in binary
      return Points::from_tenths(static_cast<std::int32_t>(std::floor(weighted + kSlack)));
    }
    case TotalKind::mean:
      return points.empty() ? Points()
                            : Points::from_tenths(tenths / static_cast<std::int32_t>(points.size()));
  }
  throw std::logic_error("unknown kind of total");
}

std::string format_result(double result, Unit unit) {
  switch (unit) {
    case Unit::second:
      return format_time(result);
    case Unit::repetition:
      return trimmed(result);
    case Unit::go:
      return result > 0.0 ? "go" : "no go";
    default:
      return trimmed(result) + " " + unit_name(unit);
  }
}

int decimals_of(const Event& event) {
  constexpr double kTenth = 0.1;
  const bool is_read_finely = event.unit == Unit::second || event.unit == Unit::metre;
  if (!is_read_finely || event.resolution >= 1.0) return 0;
  return event.resolution < kTenth ? 2 : 1;
}

std::string format_result(double result, const Event& event) {
  const int decimals = decimals_of(event);
  if (event.unit == Unit::second) return format_time(result, static_cast<std::size_t>(decimals));
  if (decimals > 0) return fmt::format("{:.{}f} {}", result, decimals, unit_name(event.unit));
  return format_result(result, event.unit);
}

}  // namespace backplan

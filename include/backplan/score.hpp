// What the latest results score: points, total, pass or fail with reasons, the next row up.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/standard.hpp"

namespace backplan {

struct EventScore {
  std::string event;
  std::optional<double> result;  // the latest; none if never measured
  std::optional<Points> points;
  Origin origin = Origin::memory;
  std::optional<Row> next;  // the next row up
};

struct ScoreCard {
  std::string standard;
  std::string category;
  std::string column;  // on which it was scored
  int age = 0;         // on the test day
  AgeBand band;
  std::vector<EventScore> events;
  std::optional<Points> total;  // none while an event has no result or is below the scale
  std::optional<bool> pass;     // none while an event has no result
  std::vector<std::string> reasons;
};

// The latest result of the event, of two on one day the better, so that their order means nothing; null:
// none.
[[nodiscard]] const DatedResult* latest_result(const std::vector<DatedResult>& results, const Event& event);

// The latest result of each event counts.
[[nodiscard]] ScoreCard score_results(const std::vector<DatedResult>& results, const Standard& standard,
                                      const Category& category, const std::string& column, int age);

// Total by the standard's kind (sum, weighted, mean).
[[nodiscard]] Points total_of(const Standard& standard,
                              const std::vector<std::pair<std::string, Points>>& points);

// "15:32", "220 lb", "41", "8.4 m": a result in the event's unit, as people write it.
[[nodiscard]] std::string format_result(double result, Unit unit);

// The decimals that the clock or the tape of the event is read to, 0 to 2; of other units 0.
[[nodiscard]] int decimals_of(const Event& event);

// The same with all of these decimals: "16.00 s" beside "16.66 s", "5.90 m" beside "5.93 m".
[[nodiscard]] std::string format_result(double result, const Event& event);

}  // namespace backplan

// Known cells to a whole scale.
#include <fmt/format.h>

#include <algorithm>

#include "backplan/score.hpp"
#include "io/cells.hpp"

namespace backplan::io {
namespace {

std::string place(const ScaleCell& cell) {
  return fmt::format("{}:{}:{}", cell.file, cell.line, cell.column);
}

// The cells that count, by points.
std::vector<ScaleCell> strongest(const std::vector<ScaleCell>& cells) {
  std::map<Points, const ScaleCell*> best;
  const bool any_official = std::any_of(cells.begin(), cells.end(),
                                        [](const ScaleCell& c) { return c.origin == Origin::official; });
  for (const ScaleCell& cell : cells) {
    if (any_official && cell.origin != Origin::official) continue;
    if (!cell.result) continue;
    const ScaleCell*& held = best[cell.points];
    // Of two official cells the later file counts: the user's own import.
    if (held == nullptr || cell.origin <= held->origin) held = &cell;
  }
  std::vector<ScaleCell> kept;
  for (const auto& [points, cell] : best) kept.push_back(*cell);
  return kept;
}

bool is_harder(const Event& event, double a, double b) {
  return event.direction == Direction::more_is_better ? a > b : a < b;
}

// A row must be on the harder side of the line between its neighbours. That is the other way round
// from a result, which is cut to the easier step.
double rounded_row(double result, const Event& event) {
  const Direction other =
      event.direction == Direction::more_is_better ? Direction::less_is_better : Direction::more_is_better;
  return round_harder(result, event.resolution, other);
}

// Rows between two known ones, by a straight line in the result. Points that fall on one step keep the
// most of them, so that every row is strictly harder than the one below.
void fill_between(const ScaleCell& low, const ScaleCell& high, const Event& event, Points step,
                  std::vector<Row>& rows) {
  const double per_point = (*high.result - *low.result) / (high.points - low.points).value();
  for (Points points = low.points + step; points < high.points; points = points + step) {
    const double result = rounded_row(*low.result + per_point * (points - low.points).value(), event);
    if (!is_harder(event, *high.result, result)) break;  // these points need the known row above
    // An interpolated row on the same step is worth less; a known one cannot be, the line leaves it.
    if (!is_harder(event, result, rows.back().result)) rows.pop_back();
    rows.push_back(
        {points, result, Origin::interpolated,
         fmt::format("straight line from {} to {} points", to_string(low.points), to_string(high.points))});
  }
}

}  // namespace

void check_monotonic(const Event& event, const std::vector<ScaleCell>& by_points, Diagnostics& faults) {
  const ScaleCell* below = nullptr;
  for (const ScaleCell& cell : by_points) {
    if (!cell.result) continue;
    if (below != nullptr && !is_harder(event, *cell.result, *below->result)) {
      faults.push_back({Severity::error,
                        cell.file,
                        cell.line,
                        cell.column,
                        {},
                        fmt::format("{} for {} points is not harder than {} for {} points ({}; {}, {}, {})",
                                    format_result(*cell.result, event), to_string(cell.points),
                                    format_result(*below->result, event), to_string(below->points),
                                    place(*below), cell.key.event, cell.key.column, to_string(cell.key.band)),
                        "more points must need a better result; check both cells"});
    }
    below = &cell;
  }
}

std::optional<Scale> build_scale(const Standard& frame, const Event& event,
                                 const std::vector<ScaleCell>& cells, Diagnostics& faults) {
  const std::vector<ScaleCell> known = strongest(cells);
  const std::size_t faults_before = faults.size();
  check_monotonic(event, known, faults);
  if (known.empty() || faults.size() != faults_before) return std::nullopt;
  std::vector<Row> rows;
  const ScaleCell* below = nullptr;
  for (const ScaleCell& cell : known) {
    const bool exact = cell.origin == Origin::official;  // the official table leaves nothing unknown
    if (below != nullptr && frame.points.fills_missing_rows && !event.whole_table && !exact) {
      fill_between(*below, cell, event, frame.points.step, rows);
    }
    rows.push_back({cell.points, *cell.result, cell.origin, cell.source});
    below = &cell;
  }
  return Scale::steps(event.direction, event.resolution, std::move(rows));
}

}  // namespace backplan::io

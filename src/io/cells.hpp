// Cells of a scale as they stand in files, before they are a scale: reading, and the rows they make.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/result.hpp"
#include "backplan/standard.hpp"
#include "io/csv.hpp"
#include "io/value_text.hpp"

namespace backplan::io {

// One cell. No result: the table says that these points have no row of their own ("---").
struct ScaleCell {
  ScaleKey key;
  Points points;
  std::optional<double> result;
  Origin origin = Origin::official;
  std::string source;
  std::string file;
  int line = 0;
  int column = 0;
};

using CellsByScale = std::map<ScaleKey, std::vector<ScaleCell>>;

// What a cells file is allowed to say of the origin of its cells.
enum class CellsKind {
  shipped,  // columns origin and source needed: official, published or memory
  official  // copied from the official table: no origin column, every cell is official
};

// Long form: event,column,age_min,age_max,points,result[,origin,confidence,source]. `frame` is the
// standard without its scales. Faults of unknown names, points off the grid, results off the resolution
// or out of the plausible range, and cells given twice.
[[nodiscard]] Result<std::vector<ScaleCell>> read_cells(std::string_view text, const std::string& file,
                                                        const Standard& frame, CellsKind kind);

// The header that long cells files start with.
inline constexpr std::string_view kLongHeader = "event,column,age_min,age_max,points,result";

// "340", "340 lb", "8.4", "1:29", "1:02:30"; a time needs its colon. Checked against range and resolution.
[[nodiscard]] Reading<double> read_cell_result(std::string_view text, const Event& event);
// "", "-", "--", "---" or dashes of any kind: no row is given here.
[[nodiscard]] bool is_no_row(std::string_view text);
// "60", "72.5"; none when it is no points value.
[[nodiscard]] std::optional<Points> read_points(std::string_view text);
// The result as cells files write it, and read_cell_result reads it: "340", "8.4", "1:29", "0:30.50".
[[nodiscard]] std::string write_cell_result(double result, const Event& event);

// A strictly monotonic scale out of the cells of one key: the strongest origin of each points value wins,
// where any cell is official only official ones count; rows missing between the rest are filled if the
// standard does so. Faults where two neighbours contradict each other.
[[nodiscard]] std::optional<Scale> build_scale(const Standard& frame, const Event& event,
                                               const std::vector<ScaleCell>& cells, Diagnostics& faults);

// Records a fault for each pair of neighbours whose results do not get harder with the points.
void check_monotonic(const Event& event, const std::vector<ScaleCell>& by_points, Diagnostics& faults);

}  // namespace backplan::io

// The file of a watch or a telephone, from bytes to one run: when, how long, how far. Where it was run is
// read only to reckon a distance that the file does not give, and is never kept. docs/journal.md, "A run from
// a watch".
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "backplan/result.hpp"
#include "backplan/units.hpp"

namespace backplan::io {

// A day of recording every second has a third of it (judgement). A larger file is not read at all.
inline constexpr std::size_t kMostWatchBytes = 32U << 20U;

enum class WatchFormat { gpx, tcx, fit };
// Where a distance comes from, the best first: a total in the file; a distance at the last point; the sum of
// the ways between positions, which is noisy.
enum class DistanceFrom { total, points, positions };

struct WatchRun {
  WatchFormat format = WatchFormat::gpx;
  std::string sport;                // as the file says it, in lower case; may be empty
  bool on_foot = true;              // false: the sport is known, and it is none on foot
  std::int64_t start = 0;           // seconds since 1970 in UTC
  std::optional<int> utc_offset_s;  // of the place, where the file gives it
  Seconds elapsed{0.0};             // from start to end
  Seconds moving{0.0};              // without the pauses; equal to `elapsed` where the file knows none
  std::optional<Metres> distance;
  DistanceFrom distance_from = DistanceFrom::total;
};

// "GPX", "TCX", "FIT".
[[nodiscard]] std::string_view to_string(WatchFormat format);
// The day on which it began: of the place if the file knows its time, else of UTC.
[[nodiscard]] Date day_of(const WatchRun& run);
// "06:00" of the same clock.
[[nodiscard]] std::string clock_of(const WatchRun& run);

// Whether bytes, or else the suffix of the name, are those of a watch's file and not of a table.
[[nodiscard]] bool is_watch_file(std::string_view bytes, std::string_view file);

// Reads GPX 1.0 and 1.1, TCX and FIT, told apart by their bytes. Refused: what is cut off or damaged, XML
// with entities of its own, more than one activity, a route without times, values that cannot be.
[[nodiscard]] Result<WatchRun> read_watch_file(std::string_view bytes, const std::string& file);

}  // namespace backplan::io

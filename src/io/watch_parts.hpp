// What the readers of watch files share: moments, the way between positions, and what cannot be.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "io/value_text.hpp"
#include "io/watch_file.hpp"

namespace backplan::io {

// Two days of recording every second (judgement).
inline constexpr std::size_t kMostTrackPoints = 200'000;

struct Moment {
  double utc = 0.0;                 // seconds since 1970
  std::optional<int> utc_offset_s;  // where it was not written as UTC
};
// "2026-11-28T06:00:00Z", also with a fraction of a second or an offset (RFC 3339); without either: UTC.
[[nodiscard]] Reading<Moment> read_moment(std::string_view text);

// A decimal number as XML Schema writes doubles: also "1.5E2". Spaces around it are no part of it.
[[nodiscard]] std::optional<double> read_xml_number(std::string_view text);

struct GeoPoint {
  double latitude = 0.0;   // degrees, north
  double longitude = 0.0;  // degrees, east
};
[[nodiscard]] bool is_on_earth(GeoPoint point);

// The ways between positions, added up, one after the other; only the last position is kept.
class WayBetween {
 public:
  void add(GeoPoint point);
  void pause() { last_.reset(); }  // no way is counted from here to the next position
  // None where there were no two positions in a row.
  [[nodiscard]] std::optional<Metres> total() const;

 private:
  std::optional<GeoPoint> last_;
  Metres total_{0.0};
  bool any_ = false;
};

// Sets `sport` in lower case and `on_foot`. Words that are not known leave it on foot.
void name_sport(WatchRun& run, std::string_view sport);

// What no run is: no time at all, over a day, before 1990, further than anybody runs in a day.
[[nodiscard]] Diagnostics faults_of(const WatchRun& run, const std::string& file);

[[nodiscard]] Diagnostic watch_fault(const std::string& file, std::string message, std::string hint);

}  // namespace backplan::io

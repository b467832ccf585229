#include "io/gpx_reader.hpp"

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <utility>

#include "io/watch_parts.hpp"

namespace backplan::io {
namespace {

constexpr std::size_t kMostFaults = 20;  // a damaged track repeats the same one
constexpr const char* kAgain = "the track is damaged; export it again, or log the run by hand";

class GpxReader {
 public:
  explicit GpxReader(const XmlText& text) : text_(text) { run_.format = WatchFormat::gpx; }

  Result<WatchRun> read() {
    const pugi::xml_node track = first_child(text_.root(), "trk");
    if (!track)
      return text_.fault_at(text_.root(), "there is no track in it", "export a run, not places or a route");
    if (const pugi::xml_node second = next_sibling(track, "trk")) {
      return text_.fault_at(second, "a second track", "export each run as a file of its own");
    }
    name_sport(run_, first_child(track, "type").child_value());
    for (auto segment = first_child(track, "trkseg"); segment; segment = next_sibling(segment, "trkseg")) {
      read_segment(segment);
      if (faults_.size() >= kMostFaults) break;
    }
    if (!faults_.empty()) return std::move(faults_);
    if (!first_ || points_ < 2) {
      return text_.fault_at(track, "fewer than two points of the track have a time",
                            "a route that was planned cannot be logged; export what was recorded");
    }
    run_.start = static_cast<std::int64_t>(std::floor(*first_));
    run_.elapsed = Seconds(last_ - *first_);
    run_.moving = Seconds(moving_);
    run_.distance = way_.total();
    run_.distance_from = DistanceFrom::positions;
    return std::move(run_);
  }

 private:
  void fault(pugi::xml_node at, std::string message, std::string hint) {
    faults_.push_back(text_.fault_at(at, std::move(message), std::move(hint)));
  }

  void read_segment(pugi::xml_node segment) {
    way_.pause();
    std::optional<double> began;
    for (auto point = first_child(segment, "trkpt"); point; point = next_sibling(point, "trkpt")) {
      if (faults_.size() >= kMostFaults) return;
      if (++points_ > kMostTrackPoints) {
        fault(point, fmt::format("more than {} points", kMostTrackPoints), "export one run alone");
        return;
      }
      read_position(point);
      if (!read_time(point)) continue;
      if (!began) began = last_;
    }
    if (began) moving_ += last_ - *began;
  }

  void read_position(pugi::xml_node point) {
    const auto latitude = read_xml_number(point.attribute("lat").value());
    const auto longitude = read_xml_number(point.attribute("lon").value());
    if (!latitude || !longitude || !is_on_earth({*latitude, *longitude})) {
      fault(point, "a point whose position is missing or nowhere on earth", kAgain);
      return;
    }
    way_.add({*latitude, *longitude});
  }

  bool read_time(pugi::xml_node point) {
    const pugi::xml_node time = first_child(point, "time");
    if (!time) return false;
    auto moment = read_moment(time.child_value());
    if (!moment.value) {
      fault(time, std::move(moment.problem), std::move(moment.hint));
      return false;
    }
    if (first_ && moment.value->utc < last_) {
      fault(time, "the time runs backwards here", kAgain);
      return false;
    }
    if (!first_) {
      first_ = moment.value->utc;
      run_.utc_offset_s = moment.value->utc_offset_s;
    }
    last_ = moment.value->utc;
    return true;
  }

  const XmlText& text_;
  WatchRun run_;
  WayBetween way_;
  std::optional<double> first_;
  double last_ = 0.0;
  double moving_ = 0.0;
  std::size_t points_ = 0;
  Diagnostics faults_;
};

}  // namespace

Result<WatchRun> read_gpx(const XmlText& text) { return GpxReader(text).read(); }

}  // namespace backplan::io

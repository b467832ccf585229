#include "io/gpx_reader.hpp"

#include <optional>
#include <utility>

#include "io/track_frame.hpp"

namespace backplan::io {
namespace {

class GpxReader : TrackFrame {
 public:
  explicit GpxReader(const XmlText& text) : TrackFrame(text, WatchFormat::gpx) {}

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
      if (has_enough_faults()) break;
    }
    if (!faults_.empty()) return std::move(faults_);
    if (!first_ || points_ < 2) {
      return text_.fault_at(track, "fewer than two points of the track have a time",
                            "a route that was planned cannot be logged; export what was recorded");
    }
    close(last_, moving_);
    return std::move(run_);
  }

 private:
  void read_segment(pugi::xml_node segment) {
    std::optional<double> began;
    each_point(segment, "trkpt", [&](pugi::xml_node point) {
      add_position(point, point.attribute("lat").value(), point.attribute("lon").value());
      if (read_time(point) && !began) began = last_;
    });
    if (began) moving_ += last_ - *began;
  }

  bool read_time(pugi::xml_node point) {
    const pugi::xml_node time = first_child(point, "time");
    if (!time) return false;
    const auto moment = moment_of(time, time.child_value());
    if (!moment) return false;
    if (first_ && moment->utc < last_) {
      fault(time, "the time runs backwards here", kAgain);
      return false;
    }
    begin_at(*moment);
    last_ = moment->utc;
    return true;
  }

  double last_ = 0.0;
  double moving_ = 0.0;
};

}  // namespace

Result<WatchRun> read_gpx(const XmlText& text) { return GpxReader(text).read(); }

}  // namespace backplan::io

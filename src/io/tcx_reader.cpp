#include "io/tcx_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "io/track_frame.hpp"

namespace backplan::io {
namespace {

class TcxReader : TrackFrame {
 public:
  explicit TcxReader(const XmlText& text) : TrackFrame(text, WatchFormat::tcx) {}

  Result<WatchRun> read() {
    const pugi::xml_node activity = first_child(first_child(text_.root(), "Activities"), "Activity");
    if (!activity) {
      return text_.fault_at(text_.root(), "there is no activity in it",
                            "export a run, not a course or a workout");
    }
    if (const pugi::xml_node second = next_sibling(activity, "Activity")) {
      return text_.fault_at(second, "a second activity", "export each run as a file of its own");
    }
    name_sport(run_, activity.attribute("Sport").value());
    for (auto lap = first_child(activity, "Lap"); lap; lap = next_sibling(lap, "Lap")) {
      read_lap(lap);
      if (has_enough_faults()) break;
    }
    if (!faults_.empty()) return std::move(faults_);
    if (!first_) return text_.fault_at(activity, "there is no lap in it", kAgain);
    close(end_, moving_);
    choose_distance();
    return std::move(run_);
  }

 private:
  // What was measured goes before what is reckoned.
  void choose_distance() {
    if (all_laps_measured_) {
      run_.distance = lap_distance_;
      run_.distance_from = DistanceFrom::total;
    } else if (point_distance_) {
      run_.distance = point_distance_;
      run_.distance_from = DistanceFrom::points;
    }
  }

  // A number that may be missing; a fault where it is none, or negative.
  std::optional<double> number_of(pugi::xml_node parent, std::string_view name) {
    const pugi::xml_node node = first_child(parent, name);
    if (!node) return std::nullopt;
    const auto number = read_xml_number(node.child_value());
    if (number && *number >= 0.0) return number;
    fault(node, fmt::format("the {} is no number from 0 on", name), kAgain);
    return std::nullopt;
  }

  void read_lap(pugi::xml_node lap) {
    const auto start = moment_of(lap, lap.attribute("StartTime").value());
    const auto seconds = number_of(lap, "TotalTimeSeconds");
    const auto metres = number_of(lap, "DistanceMeters");
    if (!faults_.empty()) return;
    if (!seconds) {
      fault(lap, "a lap without TotalTimeSeconds", kAgain);
      return;
    }
    if (first_ && start->utc < last_lap_) {
      fault(lap, "a lap begins before the one above it", kAgain);
      return;
    }
    begin_at(*start);
    last_lap_ = start->utc;
    moving_ += *seconds;
    end_ = std::max(end_, start->utc + *seconds);
    all_laps_measured_ = all_laps_measured_ && metres.has_value();
    lap_distance_ = lap_distance_ + Metres(metres.value_or(0.0));
    for (auto track = first_child(lap, "Track"); track; track = next_sibling(track, "Track"))
      each_point(track, "Trackpoint", [this](pugi::xml_node point) { read_point(point); });
  }

  void read_point(pugi::xml_node point) {
    if (const pugi::xml_node time = first_child(point, "Time")) {
      if (const auto moment = moment_of(time, time.child_value())) end_ = std::max(end_, moment->utc);
    }
    if (const auto metres = number_of(point, "DistanceMeters")) point_distance_ = Metres(*metres);
    const pugi::xml_node position = first_child(point, "Position");
    if (!position) return;
    add_position(position, first_child(position, "LatitudeDegrees").child_value(),
                 first_child(position, "LongitudeDegrees").child_value());
  }

  double last_lap_ = 0.0;
  double end_ = 0.0;
  double moving_ = 0.0;
  bool all_laps_measured_ = true;
  Metres lap_distance_{0.0};
  std::optional<Metres> point_distance_;
};

}  // namespace

Result<WatchRun> read_tcx(const XmlText& text) { return TcxReader(text).read(); }

}  // namespace backplan::io

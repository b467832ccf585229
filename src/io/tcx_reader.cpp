#include "io/tcx_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "io/watch_parts.hpp"

namespace backplan::io {
namespace {

constexpr std::size_t kMostFaults = 20;  // a damaged track repeats the same one
constexpr const char* kAgain = "the file is damaged; export it again, or log the run by hand";

class TcxReader {
 public:
  explicit TcxReader(const XmlText& text) : text_(text) { run_.format = WatchFormat::tcx; }

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
      if (faults_.size() >= kMostFaults) break;
    }
    if (!faults_.empty()) return std::move(faults_);
    if (!first_) return text_.fault_at(activity, "there is no lap in it", kAgain);
    run_.start = static_cast<std::int64_t>(std::floor(*first_));
    run_.elapsed = Seconds(end_ - *first_);
    run_.moving = Seconds(moving_);
    choose_distance();
    return std::move(run_);
  }

 private:
  void fault(pugi::xml_node at, std::string message, std::string hint) {
    faults_.push_back(text_.fault_at(at, std::move(message), std::move(hint)));
  }

  void choose_distance() {
    if (all_laps_measured_) {
      run_.distance = lap_distance_;
    } else if (point_distance_) {
      run_.distance = point_distance_;
      run_.distance_from = DistanceFrom::points;
    } else {
      run_.distance = way_.total();
      run_.distance_from = DistanceFrom::positions;
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

  std::optional<Moment> moment_of(pugi::xml_node at, std::string_view text) {
    auto moment = read_moment(text);
    if (moment.value) return moment.value;
    fault(at, std::move(moment.problem), std::move(moment.hint));
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
    if (!first_) {
      first_ = start->utc;
      run_.utc_offset_s = start->utc_offset_s;
    }
    last_lap_ = start->utc;
    moving_ += *seconds;
    end_ = std::max(end_, start->utc + *seconds);
    all_laps_measured_ = all_laps_measured_ && metres.has_value();
    lap_distance_ = lap_distance_ + Metres(metres.value_or(0.0));
    for (auto track = first_child(lap, "Track"); track; track = next_sibling(track, "Track"))
      read_track(track);
  }

  void read_track(pugi::xml_node track) {
    way_.pause();
    for (auto point = first_child(track, "Trackpoint"); point; point = next_sibling(point, "Trackpoint")) {
      if (faults_.size() >= kMostFaults) return;
      if (++points_ > kMostTrackPoints) {
        fault(point, fmt::format("more than {} points", kMostTrackPoints), "export one run alone");
        return;
      }
      read_point(point);
    }
  }

  void read_point(pugi::xml_node point) {
    if (const pugi::xml_node time = first_child(point, "Time")) {
      if (const auto moment = moment_of(time, time.child_value())) end_ = std::max(end_, moment->utc);
    }
    if (const auto metres = number_of(point, "DistanceMeters")) point_distance_ = Metres(*metres);
    const pugi::xml_node position = first_child(point, "Position");
    if (!position) return;
    const auto latitude = read_xml_number(first_child(position, "LatitudeDegrees").child_value());
    const auto longitude = read_xml_number(first_child(position, "LongitudeDegrees").child_value());
    if (!latitude || !longitude || !is_on_earth({*latitude, *longitude})) {
      fault(position, "a position that is nowhere on earth", kAgain);
      return;
    }
    way_.add({*latitude, *longitude});
  }

  const XmlText& text_;
  WatchRun run_;
  WayBetween way_;
  std::optional<double> first_;
  double last_lap_ = 0.0;
  double end_ = 0.0;
  double moving_ = 0.0;
  bool all_laps_measured_ = true;
  Metres lap_distance_{0.0};
  std::optional<Metres> point_distance_;
  std::size_t points_ = 0;
  Diagnostics faults_;
};

}  // namespace

Result<WatchRun> read_tcx(const XmlText& text) { return TcxReader(text).read(); }

}  // namespace backplan::io

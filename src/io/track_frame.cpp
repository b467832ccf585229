#include "io/track_frame.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <utility>

namespace backplan::io {

void TrackFrame::fault(pugi::xml_node at, std::string message, std::string hint) {
  faults_.push_back(text_.fault_at(at, std::move(message), std::move(hint)));
}

bool TrackFrame::has_enough_faults() const {
  constexpr std::size_t kMostFaults = 20;
  return faults_.size() >= kMostFaults;
}

std::optional<Moment> TrackFrame::moment_of(pugi::xml_node at, std::string_view text) {
  auto moment = read_moment(text);
  if (moment.value) return moment.value;
  fault(at, std::move(moment.problem), std::move(moment.hint));
  return std::nullopt;
}

void TrackFrame::begin_at(const Moment& moment) {
  if (first_) return;
  first_ = moment.utc;
  run_.utc_offset_s = moment.utc_offset_s;
}

void TrackFrame::add_position(pugi::xml_node at, std::string_view latitude, std::string_view longitude) {
  const auto north = read_xml_number(latitude);
  const auto east = read_xml_number(longitude);
  if (!north || !east || !is_on_earth({*north, *east})) {
    fault(at, "a position that is missing or nowhere on earth", kAgain);
    return;
  }
  way_.add({*north, *east});
}

void TrackFrame::close(double end, double moving) {
  run_.start = static_cast<std::int64_t>(std::floor(*first_));
  run_.elapsed = Seconds(end - *first_);
  run_.moving = Seconds(moving);
  run_.distance = way_.total();
  run_.distance_from = DistanceFrom::positions;
}

bool TrackFrame::may_be_counted(pugi::xml_node point) {
  if (++points_ <= kMostTrackPoints) return true;
  fault(point, fmt::format("more than {} points", kMostTrackPoints), "export one run alone");
  return false;
}

}  // namespace backplan::io

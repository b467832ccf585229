// The frame that the readers of tracks in XML share: faults with their place, the first moment, the points of
// a stretch and the way between them.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "backplan/result.hpp"
#include "io/watch_file.hpp"
#include "io/watch_parts.hpp"
#include "io/xml_text.hpp"

namespace backplan::io {

class TrackFrame {
 protected:
  static constexpr const char* kAgain = "the file is damaged; export it again, or log the run by hand";

  TrackFrame(const XmlText& text, WatchFormat format) : text_(text) { run_.format = format; }

  void fault(pugi::xml_node at, std::string message, std::string hint);
  // A damaged track repeats the same fault: enough is enough.
  [[nodiscard]] bool has_enough_faults() const;

  // None, with a fault, where the text is no moment.
  [[nodiscard]] std::optional<Moment> moment_of(pugi::xml_node at, std::string_view text);
  // The run begins at its first moment, on the clock of that.
  void begin_at(const Moment& moment);
  void add_position(pugi::xml_node at, std::string_view latitude, std::string_view longitude);
  // What the frame knows of the run once it is read.
  void close(double end, double moving);

  // Calls `read` with each child `name` of a stretch without pauses, as far as faults and limits allow.
  template <class Read>
  void each_point(pugi::xml_node stretch, std::string_view name, Read read) {
    way_.pause();
    for (auto point = first_child(stretch, name); point; point = next_sibling(point, name)) {
      if (has_enough_faults() || !may_be_counted(point)) return;
      read(point);
    }
  }

  const XmlText& text_;
  WatchRun run_;
  WayBetween way_;
  std::optional<double> first_;  // seconds since 1970
  std::size_t points_ = 0;
  Diagnostics faults_;

 private:
  [[nodiscard]] bool may_be_counted(pugi::xml_node point);
};

}  // namespace backplan::io

// GPX 1.0 and 1.1: the points of a track and their times. It knows no distance: that is reckoned.
#pragma once

#include "io/watch_file.hpp"
#include "io/xml_text.hpp"

namespace backplan::io {

// `text` has the root element "gpx". A new segment of the track is the end of a pause.
[[nodiscard]] Result<WatchRun> read_gpx(const XmlText& text);

}  // namespace backplan::io

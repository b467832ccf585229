// TCX, version 2: the laps of an activity with their times and distances.
#pragma once

#include "io/watch_file.hpp"
#include "io/xml_text.hpp"

namespace backplan::io {

// `text` has the root element "TrainingCenterDatabase". The distance is that of the laps; where they have
// none, that of the last point; else it is reckoned. The time of the laps is without pauses.
[[nodiscard]] Result<WatchRun> read_tcx(const XmlText& text);

}  // namespace backplan::io

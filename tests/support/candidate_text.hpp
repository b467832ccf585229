// A valid candidate file for the small test, and small changes to it.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <string_view>

namespace backplan::support {

// 24 lines; every key is there. Age 28 on the test day, band 27-99 of small_standard(), where the
// female column gives at most 300 points.
inline constexpr std::string_view kFullCandidate = R"({
  "format": "backplan-candidate/1",
  "id": "A-07",
  "birth_date": "1998-04-17",
  "column": "female",
  "standard": "small-test",
  "category": "general",
  "test_date": "2027-03-08",
  "diagnostics": [ "2027-02-01" ],
  "target": { "total": 240, "each": 60, "events": { "2MR": 70 }, "confidence": 0.8, "pass_confidence": 0.95 },
  "aim": "target",
  "background": "regular",
  "now": { "hard_sessions": 2, "minutes": 120, "longest_run": "2.5 mi" },
  "results": [ { "date": "2026-11-20", "event": "MDL", "value": "170 lb", "setting": "practice", "first": false } ],
  "week": { "mon": 60, "tue": 60, "wed": 0, "thu": 60, "fri": 60, "sat": 45, "sun": 0 },
  "home_blocks": 2,
  "days": [ { "date": "2027-01-09", "minutes": 90, "after_night_shift": false } ],
  "fixed": [ { "day": "wed", "work": "march", "minutes": 120, "distance": "6 mi" } ],
  "blocked": [ { "from": "2027-01-11", "to": "2027-01-17", "kind": "field", "why": "field exercise" } ],
  "equipment": { "hex_bar": true, "bar_lb": 60, "plates_lb": [45, 45, 25, 25], "sled": true, "kettlebells": true,
                 "pull_up_bar": true, "track": true, "throw_ball": false },
  "avoid": [ { "work": "intervals", "from": "2026-12-01", "until": "2026-12-20", "why": "shin" } ],
  "medical": { "status": "none" }
})";

// The text with its only place of `from` replaced by `to`.
inline std::string with(std::string text, std::string_view from, std::string_view to) {
  const std::size_t place = text.find(from);
  EXPECT_NE(place, std::string::npos) << from;
  if (place == std::string::npos) return text;
  EXPECT_EQ(text.find(from, place + 1), std::string::npos) << from << " stands there twice";
  return text.replace(place, from.size(), to);
}

inline std::string full_with(std::string_view from, std::string_view to) {
  return with(std::string(kFullCandidate), from, to);
}

}  // namespace backplan::support

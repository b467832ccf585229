// What the morning is put together from: the order of one person's blocks, lanes with their turns, stays.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/morning.hpp"
#include "backplan/programme.hpp"

namespace backplan {

// Minutes before and after a session's blocks.
struct Preparation {
  int before = 0, after = 0;
};
[[nodiscard]] Preparation preparation_for(const std::vector<Block>& blocks, const Rules& rules);

// What is done before and after the block on the lane.
struct VisitOrder {
  std::vector<const Block*> before, after;
  int ends = 0;
};
[[nodiscard]] std::optional<VisitOrder> order_for_wave(const LaneVisit& visit, int wave, const Model& model,
                                                       const Rules& rules);

struct LaneUser {
  std::string id;
  Block block;
  Pounds load;
};
// The users of one wave on all lanes of a kind.
struct Wave {
  std::vector<LaneUser> users;
  std::string word;
  int lanes = 0;
  int starts = 0;  // minutes from the start of the morning
};
[[nodiscard]] std::vector<Station> lane_stations(const Wave& wave, const MorningTask& task);

struct Stay {
  std::string id;
  Block block;
  int starts = 0;
  bool without_kit = false;  // no lane was free
  int delay = 0;             // minutes later than `starts`, behind other run groups
};
// Lanes first, then the stays by work; runs in groups by pace, a minute apart. `room`: minutes by which
// everybody's stays may be later.
[[nodiscard]] std::vector<Station> join_stations(std::vector<Station> lanes, std::vector<Stay> stays,
                                                 int room, const MorningTask& task);

// "2:04" of a quarter.
[[nodiscard]] std::string quarter_text(Seconds quarter);

}  // namespace backplan

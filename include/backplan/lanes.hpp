// A morning's shared lanes: who lifts on which bar, in which order, with which plates.
// docs/mathematics.md, "Lanes".
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/units.hpp"

namespace backplan {

// Loads in rising order cut into contiguous lanes.
struct LaneCut {
  std::vector<std::size_t> sizes;  // people a lane, lightest lane first
  int moves = 0;                   // pairs of plates put on or taken off in one round of every lane
};

// Pairs of plates that change between two loads, as these plates make them.
[[nodiscard]] int plate_moves(Pounds from, Pounds to, const Equipment& equipment);

// The pairs put on in one round of a lane: up from its lightest load to its heaviest, and off again.
[[nodiscard]] int round_moves(const std::vector<Pounds>& rising, const Equipment& equipment);

// The cut with the fewest moves, then the most even one. At most `lanes` lanes of at most `most` people;
// none where they do not fit.
[[nodiscard]] std::optional<LaneCut> cut_lanes(const std::vector<Pounds>& rising, std::size_t lanes,
                                               std::size_t most, const Equipment& equipment);

// Deals the plates to lanes that are used at one time, so that each can make all of its loads. None where
// there are too few.
using PlatePairs = std::map<double, int>;  // pounds of one plate -> pairs
[[nodiscard]] std::optional<std::vector<PlatePairs>> deal_plates(
    const std::vector<std::vector<Pounds>>& lanes, const Equipment& equipment);

// People with loads in rising order on at most so many bars, at most `most` on each, with the fewest plate
// changes. Where the plates do not reach, a bar stays unused if they serve better on another; then as few
// loads go down as can be, and by as little. None where the people do not fit.
struct SharedBars {
  std::vector<std::size_t> sizes;          // people a bar, lightest first
  std::vector<std::vector<Pounds>> loads;  // as they can be lifted
  std::vector<PlatePairs> plates;
  bool lowered = false;
};
[[nodiscard]] std::optional<SharedBars> share_bars(const std::vector<Pounds>& rising, std::size_t bars,
                                                   std::size_t most, const Equipment& equipment);

}  // namespace backplan

// Pairs of plates as counts, one plate of each for a side of the bar.
#pragma once

#include <map>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/lanes.hpp"

namespace backplan {

inline PlatePairs counted(const std::vector<double>& side) {
  PlatePairs pairs;
  for (const double plate : side) ++pairs[plate];
  return pairs;
}

inline PlatePairs plate_pairs_of(const Equipment& equipment) {
  PlatePairs pairs = counted(equipment.plates_lb);
  for (auto& [plate, count] : pairs) count /= 2;
  return pairs;
}

// The same equipment with these pairs and no others.
inline Equipment with_pairs(const Equipment& equipment, const PlatePairs& pairs) {
  Equipment out = equipment;
  out.plates_lb.clear();
  for (const auto& [plate, count] : pairs)
    out.plates_lb.insert(out.plates_lb.end(), 2U * static_cast<std::size_t>(count), plate);
  return out;
}

}  // namespace backplan

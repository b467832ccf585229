#include "bar_loading.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <utility>

#include "backplan/prescription.hpp"

namespace backplan {
namespace {

// A wanted load may be rounded up by this share, so that a fine step is not lost to a coarse one
// (our judgement: under the day-to-day noise of a lift, 2.5 %).
constexpr double kRoundUpShare = 0.02;
// Loads are compared in hundredths of a pound, which is finer than any plate.
constexpr double kHundredths = 100.0;

long long hundredths(double pounds) { return std::llround(pounds * kHundredths); }

// Rounded down; the slack keeps a load that was meant to be exact from losing a hundredth.
long long whole_hundredths(double pounds) {
  return static_cast<long long>(std::floor(pounds * kHundredths + 1e-6));
}

// Weight of one plate in hundredths of a pound -> how many pairs there are; heaviest first.
using Pairs = std::map<long long, int, std::greater<>>;

Pairs pairs_of(const Equipment& equipment) {
  Pairs plates;
  for (const double plate : equipment.plates_lb) {
    if (plate > 0.0) ++plates[hundredths(plate)];
  }
  for (auto& [weight, count] : plates) count /= 2;
  return plates;
}

// For every weight of one side up to `most`: the plates that make it, heavy ones preferred.
using Sides = std::map<long long, std::vector<long long>>;

Sides sides_up_to(long long most, const Pairs& pairs) {
  Sides sides{{0, {}}};
  for (const auto& [weight, count] : pairs) {
    const Sides before = sides;
    for (const auto& [sum, plates] : before) {
      std::vector<long long> more = plates;
      for (int i = 1; i <= count && sum + i * weight <= most; ++i) {
        more.push_back(weight);
        const auto at = sides.find(sum + i * weight);
        if (at == sides.end()) {
          sides.emplace(sum + i * weight, more);
        } else if (more.size() < at->second.size()) {
          at->second = more;
        }
      }
    }
  }
  return sides;
}

}  // namespace

Pounds loadable(Pounds wanted, Pounds cap, const Equipment& equipment) {
  const long long bar = hundredths(equipment.bar_lb);
  const long long most = whole_hundredths(std::min(wanted.value() * (1.0 + kRoundUpShare), cap.value()));
  const long long target = whole_hundredths(std::min(wanted, cap).value());
  if (most <= bar) return Pounds(equipment.bar_lb);
  long long below = bar;
  long long above = 0;
  for (const auto& [side, plates] : sides_up_to((most - bar) / 2, pairs_of(equipment))) {
    const long long load = bar + 2 * side;
    if (load <= target) below = std::max(below, load);
    if (load > target && above == 0) above = load;
  }
  // Down is the rule; up only when it comes nearer to what was wanted.
  const bool up = above != 0 && above - target < target - below;
  return Pounds(static_cast<double>(up ? above : below) / kHundredths);
}

std::optional<std::vector<double>> plates_a_side(Pounds load, const Equipment& equipment) {
  const long long over = hundredths(load.value()) - hundredths(equipment.bar_lb);
  if (over < 0 || over % 2 != 0) return std::nullopt;
  const Sides sides = sides_up_to(over / 2, pairs_of(equipment));
  const auto at = sides.find(over / 2);
  if (at == sides.end()) return std::nullopt;
  std::vector<double> plates;
  for (const long long weight : at->second) plates.push_back(static_cast<double>(weight) / kHundredths);
  return plates;
}

}  // namespace backplan

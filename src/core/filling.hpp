// What is laid on the days so far, and weeks that take one block after the other as long as the rules hold.
#pragma once

#include <vector>

#include "core/packs.hpp"
#include "core/so_far.hpp"

namespace backplan {

// The middle of the last n weeks' minutes; 0 without any.
[[nodiscard]] int median_of_last(std::vector<int> minutes, std::size_t n);

// Work by day of the calendar, for the rules that reach from one week into the next.
class Laid {
 public:
  explicit Laid(const Calendar& calendar);
  void add(int first, const std::vector<PlacedDay>& days);
  // What a span's neighbours hold; before today, what was done.
  [[nodiscard]] Surroundings around(int first, int count, const SoFar& so_far, Date today) const;

 private:
  const Calendar& calendar_;
  std::vector<bool> hard_, lift_, intervals_;
};

// A span's pack with its places. A pack that it took has places: `placement().outcome` is `done`.
class Filling {
 public:
  // `beside`: blocks of the same week outside of the span, which count against the limits of a week.
  Filling(const Calendar& calendar, const Segment& segment, const PlaceRequest& request, const Pack& beside);

  // One short block more of this kind; false, and nothing changed, where rules or days have no room.
  bool add(std::size_t kind);
  // The pack as it is, or the nearest lighter one that fits.
  void take_or_lighten(const Pack& wanted);
  [[nodiscard]] const Pack& pack() const { return pack_; }
  [[nodiscard]] const Placement& placement() const { return placement_; }

 private:
  [[nodiscard]] bool take(const Pack& pack);
  [[nodiscard]] int most_of(std::size_t kind) const;

  const Calendar& calendar_;
  const Segment& segment_;
  PlaceRequest request_;
  Pack beside_, pack_;
  Placement placement_;
};

}  // namespace backplan

// Quarters, legs and laps that add up. Cumulative shares are rounded, never the pieces: so the last mark is
// the whole, and no piece is off by more than a step. docs/mathematics.md, "Test day".
#include <cmath>

#include "backplan/test_day.hpp"

namespace backplan {
namespace {

constexpr double kShortestPiece = 1.0;  // metres: what is left of a distance below it belongs to the last lap

double rounded(double value) { return std::floor(value + 0.5); }

// Sets the clocks to whole steps; `shares` of the total at each mark, the last one 1.
std::vector<ClockMark> set_clocks(std::vector<ClockMark> marks, const std::vector<double>& shares,
                                  double total, double step) {
  const double steps = rounded(total / step);
  double before = 0.0;
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const double here = i + 1 == marks.size() ? steps : rounded(steps * shares[i]);
    marks[i].clock = i + 1 == marks.size() ? total : here * step;
    marks[i].split = (here - before) * step;
    before = here;
  }
  return marks;
}

}  // namespace

std::vector<int> pace_quarters(int total, const std::vector<double>& shares) {
  std::vector<int> out;
  double share = 0.0;
  int before = 0;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    share += shares[i];
    const int here = i + 1 == shares.size() ? total : static_cast<int>(rounded(total * share));
    out.push_back(here - before);
    before = here;
  }
  return out;
}

std::vector<ClockMark> leg_marks(double total, double step, const std::vector<LegShare>& legs) {
  std::vector<ClockMark> marks;
  std::vector<double> shares;
  double share = 0.0;
  for (const LegShare& leg : legs) {
    ClockMark mark;
    mark.name = leg.name;
    marks.push_back(mark);
    shares.push_back(share += leg.share);
  }
  return set_clocks(std::move(marks), shares, total, step);
}

std::vector<ClockMark> lap_marks(double total, double step, Metres distance, Metres lap, double faster) {
  std::vector<ClockMark> marks;
  std::vector<double> shares;
  for (int i = 1;; ++i) {
    const bool last = distance - lap * i < Metres(kShortestPiece);
    ClockMark mark;
    mark.at = last ? distance : lap * i;
    marks.push_back(mark);
    const double way = mark.at / distance;
    shares.push_back(way <= 0.5 ? way * (1.0 + faster) : 1.0 - (1.0 - way) * (1.0 - faster));
    if (last) break;
  }
  return set_clocks(std::move(marks), shares, total, step);
}

}  // namespace backplan

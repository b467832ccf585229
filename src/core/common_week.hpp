// The weekly patterns that a squad's mornings can hold: packs of the single planner, laid on the mornings
// as doctrine has it.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "backplan/programme.hpp"
#include "core/season.hpp"

namespace backplan {

// A pack and the mornings it is laid on.
struct Layout {
  Pack pack;
  Stations stations;
  Pattern pattern;
};

class CommonWeek {
 public:
  // The mornings of an ordinary week, seen by somebody who may do everything.
  CommonWeek(const Squad& squad, const Knowledge& knowledge);

  // Packs that are good for a person of these states at these prices, laid out; several layouts each.
  [[nodiscard]] std::vector<Layout> layouts_for(const std::vector<EventState>& states, const Prices& prices,
                                                int most_hard, int most_intervals) const;
  // The pack laid out: run days and lifting days by turns, fast running in the middle of the week, where that
  // can be; else as the rules allow.
  [[nodiscard]] std::vector<Layout> laid_out(const Pack& pack) const;
  [[nodiscard]] std::optional<Layout> layout_of(const Pattern& pattern) const;
  // Kinds that need no kit and are not hard: what a person may do instead of forbidden work.
  [[nodiscard]] Stations with_instead(const Stations& stations, std::uint32_t own) const;
  [[nodiscard]] const Calendar& calendar() const { return *calendar_; }

 private:
  [[nodiscard]] Segment segment(int most_hard, int most_intervals) const;
  [[nodiscard]] std::optional<Layout> laid_with(const Pack& pack, const Stations& stations) const;
  [[nodiscard]] Stations by_turns(unsigned run_days, unsigned fast_days) const;

  Candidate someone_;
  std::unique_ptr<Calendar> calendar_;
};

// What further work is worth to these states over the weeks left: the slopes of the events' values.
[[nodiscard]] Prices prices_of(const std::vector<EventState>& states, const Candidate& candidate,
                               const Knowledge& knowledge, Date as_of, double below_minimum_cost);

}  // namespace backplan

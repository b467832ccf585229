// The defaults that concern one standard: the catalogue of events and work is larger than any test.
#pragma once

#include <cstddef>

#include "backplan/model.hpp"
#include "backplan/result.hpp"
#include "backplan/rules.hpp"
#include "backplan/standard.hpp"

namespace backplan {

// Work kinds that a plan may place for one standard: what the planner's packs have room for. The events are
// kMostEvents (standard.hpp).
inline constexpr std::size_t kMostKinds = 12;

// Whether a plan for this standard may place such work: it trains one of its events, or the catalogue
// says that it is for one.
[[nodiscard]] bool is_work_for(const WorkKind& kind, const Standard& standard);

// A fault where the catalogue has more kinds of work for this standard than a plan can weigh.
[[nodiscard]] Diagnostics too_much_work(const Model& model, const Standard& standard);

// The work that a plan may place or that carries over to the standard's events by a tenth and more, and the
// assumptions about these and their events only. The events stay as they are.
[[nodiscard]] Model suited_model(const Model& model, const Standard& standard);

// Pain rules over this catalogue: what is stopped like another kind is listed with it.
[[nodiscard]] Rules suited_rules(const Rules& rules, const Model& model);

}  // namespace backplan

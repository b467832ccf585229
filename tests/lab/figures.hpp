// Figures as an invented person writes them: what a session or a result shows of the true ability, with the
// person's own habits and the noise of the day, in the units and steps that people use.
#pragma once

#include <optional>

#include "backplan/journal.hpp"
#include "lab/person.hpp"
#include "support/random_source.hpp"

namespace backplan::lab {

// The session with sets, times and distances where it says something of its event.
[[nodiscard]] WorkDone with_figures(WorkDone work, const Person& person, const Knowledge& knowledge,
                                    testing::RandomSource& random);
[[nodiscard]] ResultDone result_shown(std::size_t event, Setting setting, const Person& person,
                                      const Knowledge& knowledge, testing::RandomSource& random);
[[nodiscard]] Typed<Seconds> typed_seconds(double value);  // whole seconds, "17:05"

}  // namespace backplan::lab

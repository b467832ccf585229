// The parts of an invented candidate that do not depend on the standard: days, calendar, limits.
#pragma once

#include "backplan/candidate.hpp"
#include "support/random_candidates.hpp"
#include "support/random_source.hpp"

namespace backplan::testing {

// A birth date that gives this age on the day, so many days after the birthday.
[[nodiscard]] Date born_for(int age, Date day, int days_after_birthday);
[[nodiscard]] Equipment full_equipment();

void draw_week(RandomSource& random, const CandidateKnobs& knobs, Candidate& candidate);
void draw_now(RandomSource& random, Candidate& candidate);
// Blocked spells, fixed work, single days, night shifts, diagnostics.
void draw_calendar(RandomSource& random, Date as_of, const CandidateKnobs& knobs, Candidate& candidate);
// Equipment, avoided work, medical state.
void draw_limits(RandomSource& random, Date as_of, Candidate& candidate);

}  // namespace backplan::testing

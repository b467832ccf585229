// How every plan begins, a single one or a squad member's.
#pragma once

#include <string>

#include "backplan/plan.hpp"
#include "backplan/planner.hpp"

namespace backplan {

// Marks the events whose estimate of today reads otherwise than their latest result.
void note_latest(Outlook& outlook, const Candidate& candidate, const Standard& standard,
                 const History& history, Date as_of);
void set_heading(Plan& plan, const Candidate& candidate, const Knowledge& knowledge, Date as_of);

}  // namespace backplan

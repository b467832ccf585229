// A plan of two weeks for the small test, made by code: every field of a Plan holds something.
#pragma once

#include "backplan/plan.hpp"

namespace backplan::support {

// Test on Mon 8 Mar 2027; week 2 from 22 Feb is a build week with a lift and a home block on Tue 23
// Feb and a march on Wed 24 Feb; week 1 is the taper, provisional. Not enough; has ways out.
[[nodiscard]] Plan small_plan();

}  // namespace backplan::support

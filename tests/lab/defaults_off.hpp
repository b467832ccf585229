// The shipped model with one default changed.
#pragma once

#include <string>
#include <vector>

#include "backplan/model.hpp"
#include "backplan/standard.hpp"

namespace backplan::lab {

struct DefaultOff {
  std::string name;  // "events.MDL.dose.u0"
  double value = 0.0;
  Model lower, higher;  // the value three quarters and five quarters as large
};

// Every number of data/model/{events,outlook,work}.json that is a judgement and concerns the standard. Left
// out: sizes and limits of blocks, which are chosen and not believed, and changes that the reader refuses.
[[nodiscard]] std::vector<DefaultOff> judged_defaults(const Standard& standard);

}  // namespace backplan::lab

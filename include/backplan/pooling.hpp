// What the logs of some teach about all: a common shift of headroom and rate of each event.
// docs/mathematics.md, "Pooling".
#pragma once

#include <string>
#include <vector>

#include "backplan/model.hpp"
#include "backplan/progress.hpp"

namespace backplan {

// In logarithms: the squad's headroom and rate are exp(shift) times what the defaults say.
struct PooledEvent {
  std::string event;
  int people = 0;  // whose logs say something
  double headroom_shift = 0.0, headroom_sd = 0.0;
  double rate_shift = 0.0, rate_sd = 0.0;
};

// One fit a member (reports empty without a log). `without`: leave this member out, so that nobody's own
// log counts twice; none: -1.
[[nodiscard]] std::vector<PooledEvent> pool(const std::vector<Fit>& fits, int without = -1);

// The defaults moved by what was pooled.
[[nodiscard]] Model moved(const Model& model, const std::vector<PooledEvent>& pooled);

}  // namespace backplan

// `backplan score --json`: stable keys, data/schema/score.schema.json.
#pragma once

#include <string>
#include <vector>

#include "backplan/progress.hpp"
#include "backplan/score.hpp"
#include "backplan/standard.hpp"
#include "io/json_write.hpp"

namespace backplan::io {

// The card of the candidate's own category; `all` adds what every category of the standard says, `fitted`
// the levels of today where a journal gives them.
[[nodiscard]] Json score_json(const ScoreCard& card, const std::vector<ScoreCard>& all,
                              const Standard& standard, const std::vector<FitReport>& fitted = {});

}  // namespace backplan::io

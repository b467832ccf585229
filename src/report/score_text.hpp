// The screen of `backplan score`.
#pragma once

#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/progress.hpp"
#include "backplan/score.hpp"
#include "report/names.hpp"

namespace backplan::report {

// What the screen shows: the card of the own category, those of all categories of the standard, the
// result that stood for each event (in the card's order; absent ones have no event), and whether
// every one of them is of record.
struct ScoreView {
  ScoreCard card;
  std::vector<ScoreCard> all;
  std::vector<DatedResult> latest;
  bool of_record = false;
  std::vector<FitReport> fitted;  // where the journal says something: the level today; not a result
};

[[nodiscard]] std::string score_text(const ScoreView& view, const Candidate& candidate, const Names& names);

}  // namespace backplan::report

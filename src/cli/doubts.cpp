#include "cli/doubts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/estimate_text.hpp"

namespace backplan::cli {

void keep_best(std::vector<Evidence>& best, Evidence one) {
  const auto same = std::find_if(best.begin(), best.end(),
                                 [&one](const Evidence& other) { return other.event == one.event; });
  if (same == best.end()) {
    best.push_back(std::move(one));
  } else if (one.v > same->v) {
    *same = std::move(one);
  }
}

std::vector<Evidence> best_known(const Candidate& candidate, const std::vector<Done>& standing,
                                 const Standard& standard, const Model& model) {
  std::vector<Evidence> best;
  for (Evidence& one : evidence_of(candidate.results, standard, model)) keep_best(best, std::move(one));
  for (const Done& done : standing) {
    if (auto one = evidence_of(done, standard, model)) keep_best(best, *std::move(one));
  }
  return best;
}

std::optional<Diagnostic> unit_question(const Done& done, const std::vector<Evidence>& best,
                                        const Standard& standard, const Model& model) {
  const auto doubt = unit_doubt(done, best, standard, model);
  if (!doubt) return std::nullopt;
  const Event& event = *standard.find_event(doubt->event);
  const bool work = std::holds_alternative<WorkDone>(done.what);
  return Diagnostic{
      Severity::error,
      "",
      0,
      0,
      work ? "sets" : "value",
      fmt::format("\"{}\" would read as {} in {}, but so far it was {}", doubt->typed,
                  io::estimate_text(doubt->reads_as, event), doubt->event,
                  io::estimate_text(doubt->known, event)),
      fmt::format("did you mean \"{}\"? then write it so; if it is right as it stands, add --sure",
                  doubt->instead)};
}

}  // namespace backplan::cli

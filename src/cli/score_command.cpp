#include <ostream>
#include <stdexcept>

#include "backplan/score.hpp"
#include "cli/commands.hpp"
#include "cli/past.hpp"
#include "cli/workspace.hpp"
#include "io/score_json.hpp"
#include "report/score_text.hpp"

namespace backplan::cli {
namespace {

// The result that stood for an event on the card: the last one (results are in order of date) of
// that value.
const DatedResult* behind(const EventScore& score, const std::vector<DatedResult>& results) {
  for (auto one = results.rbegin(); one != results.rend(); ++one) {
    if (one->event == score.event && score.result && one->value == *score.result) return &*one;
  }
  return nullptr;
}

report::ScoreView view_of(const Candidate& candidate, const std::vector<DatedResult>& results,
                          const Standard& standard) {
  report::ScoreView view;
  const int age = age_on(candidate.birth_date, candidate.test_date);
  for (const Category& category : standard.categories) {
    view.all.push_back(score_results(results, standard, category, candidate.column, age));
    if (category.id == candidate.category) view.card = view.all.back();
  }
  if (view.card.standard.empty()) throw std::logic_error("a candidate of an unknown category was read");
  view.of_record = true;
  for (const EventScore& score : view.card.events) {
    const DatedResult* result = behind(score, results);
    if (result != nullptr) view.latest.push_back(*result);
    view.of_record = view.of_record && result != nullptr && result->setting == Setting::record;
  }
  return view;
}

}  // namespace

int score(const Session& session) {
  const auto workspace = read_workspace(session);
  if (!workspace.ok()) return refuse(workspace.faults(), session);
  const Workspace& files = *workspace.value();
  const auto history = read_history(session, workspace.value());
  if (!history.ok()) return refuse(history.faults(), session);
  report::ScoreView view = view_of(
      files.candidate, results_so_far(files.candidate, history.value(), session.as_of), files.standard);
  if (!history.value().empty()) {
    view.fitted =
        fit_history(files.candidate, files.standard, files.model, session.as_of, history.value()).reports;
  }
  session.streams.out << (session.json()
                              ? io::pretty(io::score_json(view.card, view.all, files.standard, view.fitted))
                              : report::score_text(view, files.candidate, {files.standard, files.model}));
  return view.card.pass == false ? kExitAnswerIsNo : kExitDone;
}

}  // namespace backplan::cli

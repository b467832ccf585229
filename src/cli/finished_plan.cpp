#include "cli/finished_plan.hpp"

#include <fmt/format.h>

#include <ostream>
#include <vector>

#include "backplan/check.hpp"
#include "backplan/replan.hpp"
#include "backplan/units.hpp"
#include "cli/past.hpp"
#include "cli/revision.hpp"
#include "io/plan_json.hpp"
#include "report/plan_text.hpp"
#include "report/words.hpp"
#include "store/files.hpp"

namespace backplan::cli {
namespace {

// Weeks count back from the test, as in PlannedWeek; worked out from the date, because a broken plan's own
// weeks may be what is wrong.
int week_of(Date date, Date test_date) {
  const auto days_before = static_cast<int>((test_date - date).count());
  return (days_before + kDaysAWeek - 1) / kDaysAWeek;
}

std::string in_words(const std::vector<Violation>& broken, Date test_date) {
  const Violation& first = broken.front();
  std::string text =
      fmt::format("the plan breaks the rule {} in week {} before the test, on {}: {}", first.rule,
                  week_of(first.where, test_date), report::short_date(first.where), first.what);
  const std::size_t more = broken.size() - 1;
  if (more > 0) text += fmt::format(" (and {} more)", more);
  return text;
}

// The plan as the next revision of the one that lies there, with its days that are over. One that cannot be
// read, or is somebody else's, is written over.
Plan after_the_stored(const Plan& plan, const Standard& standard, const Session& session) {
  if (!store::is_file(session.file("plan.json"))) return plan;
  const auto old = read_stored_plan(session);
  if (!old.ok()) return plan;
  const bool own = old.value().candidate == plan.candidate;
  return revised(own ? with_past(plan, old.value()) : plan, old.value(), standard);
}

}  // namespace

const Plan& checked(const Plan& plan, const Candidate& candidate, const Knowledge& knowledge) {
  const auto broken = check_plan(plan, candidate, knowledge.standard, knowledge.model, knowledge.rules);
  if (!broken.empty()) throw BrokenPlan(in_words(broken, candidate.test_date));
  return plan;
}

int hand_over(const Plan& plan, const Candidate& seen, const Workspace& files, const Session& session) {
  const Plan next = after_the_stored(checked(plan, seen, files.knowledge()), files.standard, session);
  const std::string bytes = io::write_plan(next, files.standard, BACKPLAN_VERSION);
  const std::string answer = session.json() ? bytes : report::plan_text(plan, {files.standard, files.model});
  store::write_atomically(session.file("plan.json"), bytes);
  answer_change(answer, "`backplan show --all` shows the plan", session);
  return plan.enough ? kExitDone : kExitAnswerIsNo;
}

}  // namespace backplan::cli

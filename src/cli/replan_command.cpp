#include <ostream>

#include "backplan/replan.hpp"
#include "cli/commands.hpp"
#include "cli/finished_plan.hpp"
#include "cli/past.hpp"
#include "cli/revision.hpp"
#include "cli/workspace.hpp"
#include "io/plan_json.hpp"
#include "io/replan_json.hpp"
#include "report/replan_text.hpp"
#include "store/files.hpp"

namespace backplan::cli {

int replan(const Session& session) {
  const auto workspace = read_workspace(session);
  if (!workspace.ok()) return refuse(workspace.faults(), session);
  const Workspace& files = *workspace.value();
  auto old = read_stored_plan(session);
  if (!old.ok()) return refuse(old.faults(), session);
  const auto history = read_history(session, workspace.value(), old.value());
  if (!history.ok()) return refuse(history.faults(), session);
  Replan found = backplan::replan(files.candidate, files.knowledge(), session.as_of, history.value());
  if (!found.unchanged) {
    static_cast<void>(checked(found.ahead, found.seen, files.knowledge()));
    found.plan = revised(found.plan, old.value(), files.standard);
  }
  const report::DayNotes notes{report::marks_of(found.plan, history.value().entries, session.as_of), {}};
  const std::string answer =
      session.json() ? io::write_replan(found, old.value(), files.standard)
                     : report::replan_text(found, old.value(), {files.standard, files.model}, notes);
  if (!found.unchanged) {
    store::write_atomically(session.file("plan.json"),
                            io::write_plan(found.plan, files.standard, BACKPLAN_VERSION));
    answer_change(answer, "`backplan show --all` shows the plan", session);
  } else {
    session.streams.out << answer;
  }
  return found.plan.enough ? kExitDone : kExitAnswerIsNo;
}

}  // namespace backplan::cli

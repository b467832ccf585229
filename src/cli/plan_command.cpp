#include "backplan/planner.hpp"
#include "cli/commands.hpp"
#include "cli/finished_plan.hpp"
#include "cli/past.hpp"
#include "cli/workspace.hpp"

namespace backplan::cli {

int plan(const Session& session) {
  const auto workspace = read_workspace(session);
  if (!workspace.ok()) return refuse(workspace.faults(), session);
  const Workspace& files = *workspace.value();
  const auto history = read_history(session, workspace.value());
  if (!history.ok()) return refuse(history.faults(), session);
  return hand_over(make_plan(files.candidate, files.knowledge(), session.as_of, history.value()),
                   as_seen(files.candidate, files.knowledge(), session.as_of, history.value()), files,
                   session);
}

}  // namespace backplan::cli

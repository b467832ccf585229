#include <ostream>

#include "backplan/planner.hpp"
#include "cli/commands.hpp"
#include "cli/workspace.hpp"
#include "io/plan_json.hpp"
#include "report/plan_text.hpp"
#include "store/files.hpp"

namespace backplan::cli {

int plan(const Session& session) {
  const auto workspace = read_workspace(session);
  if (!workspace.ok()) return refuse(workspace.faults(), session);
  const Workspace& files = *workspace.value();
  const Plan made = make_plan(files.candidate, files.knowledge(), session.as_of);
  const std::string bytes = io::write_plan(made, files.standard, BACKPLAN_VERSION);
  store::write_atomically(session.file("plan.json"), bytes);
  session.streams.out << (session.json() ? bytes : report::plan_text(made, {files.standard, files.model}));
  return made.enough ? kExitDone : kExitAnswerIsNo;
}

}  // namespace backplan::cli

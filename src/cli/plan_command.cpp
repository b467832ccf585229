#include <optional>
#include <utility>

#include "backplan/planner.hpp"
#include "cli/commands.hpp"
#include "cli/finished_plan.hpp"
#include "cli/past.hpp"
#include "cli/workspace.hpp"
#include "store/files.hpp"

namespace backplan::cli {

namespace {

// The plan that was followed so far: what it planned and nobody logged counts in the fit, as it does when a
// plan is made again. One that cannot be read, or is somebody else's, is written over.
std::optional<Plan> followed_plan(const Session& session, const Candidate& candidate) {
  if (!store::is_file(session.file("plan.json"))) return std::nullopt;
  auto old = read_stored_plan(session);
  if (!old.ok() || old.value().candidate != candidate.id) return std::nullopt;
  return std::move(old).value();
}

}  // namespace

int plan(const Session& session) {
  const auto workspace = read_workspace(session);
  if (!workspace.ok()) return refuse(workspace.faults(), session);
  const Workspace& files = *workspace.value();
  const auto history = read_history(session, workspace.value(), followed_plan(session, files.candidate));
  if (!history.ok()) return refuse(history.faults(), session);
  return hand_over(make_plan(files.candidate, files.knowledge(), session.as_of, history.value()),
                   as_seen(files.candidate, files.knowledge(), session.as_of, history.value()), files,
                   session);
}

}  // namespace backplan::cli

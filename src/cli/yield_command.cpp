#include <ostream>

#include "backplan/planner.hpp"
#include "cli/commands.hpp"
#include "cli/past.hpp"
#include "cli/workspace.hpp"
#include "io/plan_json.hpp"
#include "report/yield_text.hpp"

namespace backplan::cli {

int yield(const Session& session) {
  const auto workspace = read_workspace(session);
  if (!workspace.ok()) return refuse(workspace.faults(), session);
  const Workspace& files = *workspace.value();
  const auto history = read_history(session, workspace.value());
  if (!history.ok()) return refuse(history.faults(), session);
  const YieldReport found =
      work_out_yield(files.candidate, files.knowledge(), session.as_of, history.value());
  if (session.json()) {
    io::Json json;
    json["candidate"] = files.candidate.id;
    json["as_of"] = io::date_json(session.as_of);
    json["test_date"] = io::date_json(files.candidate.test_date);
    if (!found.refused.empty()) json["refused"] = io::Json::array({found.refused});
    json["yield"] = io::yield_json(found.rows);
    json["without_training"] =
        found.refused.empty() ? io::outlook_json(found.now, files.standard) : io::Json(nullptr);
    session.streams.out << io::pretty(json);
  } else {
    session.streams.out << report::yield_text(found, files.candidate, session.as_of,
                                              {files.standard, files.model});
  }
  return found.refused.empty() ? kExitDone : kExitAnswerIsNo;
}

}  // namespace backplan::cli

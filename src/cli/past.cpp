#include "cli/past.hpp"

#include <utility>

#include "cli/journal_desk.hpp"
#include "io/json_text.hpp"
#include "io/plan_json.hpp"
#include "store/files.hpp"

namespace backplan::cli {

Result<Plan> read_stored_plan(const Session& session) {
  const std::string name = session.file("plan.json").string();
  const auto text =
      store::read_file(name, io::kMostJsonBytes, "`backplan plan` makes the plan; -C DIR names its folder");
  if (!text.ok()) return text.faults();
  return io::read_plan(text.value(), name);
}

Result<History> read_history(const Session& session, std::shared_ptr<const Workspace> files,
                             std::optional<Plan> plan) {
  const JournalDesk desk(session, std::move(files));
  const auto journal = desk.read();
  if (!journal.ok()) return journal.faults();
  const Standing standing = effective(journal.value());
  tell_warnings(journal.value(), standing, session);
  return history_of(standing, std::move(plan));
}

}  // namespace backplan::cli

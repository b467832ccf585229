#include "cli/past.hpp"

#include <utility>

#include "cli/journal_desk.hpp"
#include "io/journal_reader.hpp"
#include "io/json_text.hpp"
#include "io/plan_json.hpp"
#include "io/readers.hpp"
#include "store/files.hpp"

namespace backplan::cli {

namespace {

// The bytes of the files that a plan is made from: who, and what was done.
std::string basis_of(const Session& session) {
  std::string bytes;
  for (const char* file : {"candidate.json", "journal.jsonl"}) {
    const std::string name = session.file(file).string();
    if (store::is_file(name)) bytes += store::read_file(name, io::kMostJournalBytes).value();
    bytes += '\n';
  }
  return io::content_hash(bytes);
}

}  // namespace

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
  History history = history_of(standing, std::move(plan));
  history.basis = basis_of(session);
  return history;
}

}  // namespace backplan::cli

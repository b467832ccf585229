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
    if (store::is_there(name)) bytes += store::read_file(name, io::kMostJournalBytes).value();
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
  auto plan = io::read_plan(text.value(), name);
  if (plan.ok()) return plan;
  return made_anew_by("`backplan plan`", plan.faults());
}

Result<Standing> read_standing(const Session& session, const Standard& standard, const Model& model) {
  const std::string name = session.file("journal.jsonl").string();
  if (!store::is_there(name)) return Standing{};
  const auto text = store::read_file(name, io::kMostJournalBytes);
  if (!text.ok()) return text.faults();
  const auto journal = io::read_journal(text.value(), name, {standard, model, session.as_of});
  if (!journal.ok()) return journal.faults();
  Standing standing = effective(journal.value());
  tell_warnings(journal.value(), standing, session);
  return standing;
}

Result<History> read_history(const Session& session, const std::shared_ptr<const Workspace>& files,
                             std::optional<Plan> plan) {
  const auto standing = read_standing(session, files->standard, files->model);
  if (!standing.ok()) return standing.faults();
  History history = history_of(standing.value(), std::move(plan));
  history.basis = basis_of(session);
  return history;
}

}  // namespace backplan::cli

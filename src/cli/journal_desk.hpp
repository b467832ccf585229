// The journal of the working folder for the commands: reading it, adding to it, finding entries in it.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "backplan/evidence.hpp"
#include "backplan/journal.hpp"
#include "cli/doubts.hpp"
#include "cli/session.hpp"
#include "cli/workspace.hpp"
#include "io/journal_json.hpp"
#include "report/names.hpp"

namespace backplan::cli {

class JournalDesk {
 public:
  // The candidate's test may be over: what was done can be logged for ever.
  JournalDesk(const Session& session, std::shared_ptr<const Workspace> files);

  [[nodiscard]] const Workspace& files() const { return *files_; }
  [[nodiscard]] io::EntryContext context() const { return {files_->standard, files_->model, session_.as_of}; }
  [[nodiscard]] report::Names names() const { return {files_->standard, files_->model}; }
  [[nodiscard]] std::string path() const;
  [[nodiscard]] std::string new_id() const;
  // The pain that holds today by what stands in the journal.
  [[nodiscard]] std::vector<PainStop> pain_by(const std::vector<Done>& standing) const;

  // An empty journal where there is no file yet.
  [[nodiscard]] Result<Journal> read() const;

  // Makes lines for the journal as it is and appends them. They are made twice: before the file is opened,
  // so that a fault leaves no empty file behind, and under the lock, where the journal may have grown.
  // "" appends nothing.
  using MakeLines = std::function<Result<std::string>(const Journal&)>;
  [[nodiscard]] Diagnostics append(const MakeLines& make) const;

  // The best that is known in each event: from the results of candidate.json and what stands in the journal.
  [[nodiscard]] std::vector<Evidence> best_known(const std::vector<Done>& standing) const;

  // What no entry may say: a day after today or before the birth, a load in the wrong unit.
  enum class Doubts { asked, accepted };
  [[nodiscard]] Diagnostics faults_of(const Done& done, const std::vector<Evidence>& best,
                                      Doubts doubts) const;

 private:
  const Session& session_;
  std::shared_ptr<const Workspace> files_;
};

// Faults and warnings of the journal itself, on `err`.
void tell_warnings(const Journal& journal, const Standing& standing, const Session& session);

// The deed of an entry that is no void, as if it stood.
[[nodiscard]] Done as_done(const Entry& entry);

}  // namespace backplan::cli

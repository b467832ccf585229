#include "cli/journal_desk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>
#include <type_traits>

#include "backplan/work_off.hpp"
#include "io/journal_reader.hpp"
#include "io/value_text.hpp"
#include "store/files.hpp"
#include "store/journal_file.hpp"

namespace backplan::cli {
namespace {

Diagnostic fault_of(std::string field, std::string message, std::string hint) {
  return {Severity::error, "", 0, 0, std::move(field), std::move(message), std::move(hint)};
}

}  // namespace

JournalDesk::JournalDesk(const Session& session, std::shared_ptr<const Workspace> files)
    : session_(session), files_(std::move(files)) {}

std::string JournalDesk::path() const { return session_.file("journal.jsonl").string(); }

std::string JournalDesk::new_id() const {
  return session_.environment.new_id ? session_.environment.new_id() : store::new_id();
}

std::vector<PainStop> JournalDesk::pain_by(const std::vector<Done>& standing) const {
  return pain_of(standing, files_->model, files_->rules.pain, session_.as_of);
}

Result<Journal> JournalDesk::read() const {
  const std::string name = path();
  if (!store::is_there(name)) {
    Journal none;
    none.file = name;
    return none;
  }
  const auto text = store::read_file(name, io::kMostJournalBytes);
  if (!text.ok()) return text.faults();
  return io::read_journal(text.value(), name, context());
}

Diagnostics JournalDesk::append(const MakeLines& make) const {
  const auto journal = read();
  if (!journal.ok()) return journal.faults();
  const auto early = make(journal.value());
  if (!early.ok()) return early.faults();
  if (early.value().empty()) return {};
  Diagnostics faults;
  store::append_to_journal({path(), io::journal_head(), [&]() -> std::string {
                              const auto now = read();
                              const auto lines =
                                  now.ok() ? make(now.value()) : Result<std::string>(now.faults());
                              if (lines.ok()) return lines.value();
                              faults = lines.faults();
                              return "";
                            }});
  return faults;
}

std::vector<Evidence> JournalDesk::best_known(const std::vector<Done>& standing) const {
  return cli::best_known(files_->candidate, standing, files_->standard, files_->model);
}

Diagnostics JournalDesk::faults_of(const Done& done, const std::vector<Evidence>& best, Doubts doubts) const {
  Diagnostics faults;
  if (done.date > session_.as_of) {
    faults.push_back(fault_of(
        "date", fmt::format("{} is after today, {}", io::say_date(done.date), io::say_date(session_.as_of)),
        "correct the date, or give --as-of a later day"));
  }
  if (done.date <= files_->candidate.birth_date) {
    faults.push_back(fault_of("date", fmt::format("{} is not after the birth date", io::say_date(done.date)),
                              "check the year"));
  }
  if (doubts == Doubts::accepted) return faults;
  if (auto question = unit_question(done, best, files_->standard, files_->model))
    faults.push_back(*std::move(question));
  return faults;
}

void tell_warnings(const Journal& journal, const Standing& standing, const Session& session) {
  Diagnostics all = journal.warnings;
  all.insert(all.end(), standing.faults.begin(), standing.faults.end());
  sort_by_place(all);
  for (const Diagnostic& warning : all) session.streams.err << to_string(warning) << '\n';
}

Done as_done(const Entry& entry) {
  Done done{entry.id, entry.date, Missed{}, entry.note, entry.line};
  std::visit(
      [&done](const auto& what) {
        using What = std::decay_t<decltype(what)>;
        if constexpr (std::is_same_v<What, Replace>) {
          done.what = what.by;
        } else if constexpr (!std::is_same_v<What, Void>) {
          done.what = what;
        }
      },
      entry.what);
  return done;
}

}  // namespace backplan::cli

#include "cli/journal_desk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>
#include <type_traits>

#include "io/estimate_text.hpp"
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

std::vector<std::string> JournalDesk::all_work() const {
  std::vector<std::string> ids;
  for (const WorkKind& kind : files_->model.work) ids.push_back(kind.id);
  return ids;
}

Result<Journal> JournalDesk::read() const {
  const std::string name = path();
  if (!store::is_file(name)) {
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
  std::vector<Evidence> best;
  for (Evidence& one : evidence_of(files_->candidate.results, files_->standard, files_->model)) {
    keep_best(best, std::move(one));
  }
  for (const Done& done : standing) {
    if (auto one = evidence_of(done, files_->standard, files_->model)) keep_best(best, *std::move(one));
  }
  return best;
}

Diagnostics JournalDesk::faults_of(const Done& done, const std::vector<Evidence>& best, Doubts doubts) const {
  Diagnostics faults;
  if (done.date > session_.as_of) {
    faults.push_back(fault_of(
        "date", fmt::format("{} is after today, {}", io::say_date(done.date), io::say_date(session_.as_of)),
        "correct the date, or give --as-of a later day"));
  }
  if (done.date <= files_->candidate.birth_date) {
    faults.push_back(fault_of("date", fmt::format("{} lies before the birth date", io::say_date(done.date)),
                              "check the year"));
  }
  if (doubts == Doubts::accepted) return faults;
  const auto doubt = unit_doubt(done, best, files_->standard, files_->model);
  if (!doubt) return faults;
  const Unit unit = files_->standard.find_event(doubt->event)->unit;
  const bool work = std::holds_alternative<WorkDone>(done.what);
  faults.push_back(
      fault_of(work ? "sets" : "value",
               fmt::format("\"{}\" would read as {} in {}, but so far it was {}", doubt->typed,
                           io::estimate_text(doubt->reads_as, unit), doubt->event,
                           io::estimate_text(doubt->known, unit)),
               fmt::format("did you mean \"{}\"? then write it so; if it is right as it stands, add --sure",
                           doubt->instead)));
  return faults;
}

void keep_best(std::vector<Evidence>& best, Evidence one) {
  const auto same = std::find_if(best.begin(), best.end(),
                                 [&one](const Evidence& other) { return other.event == one.event; });
  if (same == best.end()) {
    best.push_back(std::move(one));
  } else if (one.v > same->v) {
    *same = std::move(one);
  }
}

void tell_warnings(const Journal& journal, const Standing& standing, const Session& session) {
  Diagnostics all = journal.warnings;
  all.insert(all.end(), standing.faults.begin(), standing.faults.end());
  std::stable_sort(all.begin(), all.end(),
                   [](const Diagnostic& a, const Diagnostic& b) { return a.line < b.line; });
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

// What every command gets: the options that all share, the streams, and how it tells faults.
#pragma once

#include <array>
#include <filesystem>
#include <functional>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>

#include "backplan/result.hpp"
#include "cli/environment.hpp"

namespace backplan::cli {

// Exit codes; those of failing disks are in store/failures.hpp. 64 and up as sysexits.h numbers them.
inline constexpr int kExitDone = 0;
inline constexpr int kExitAnswerIsNo = 1;
inline constexpr int kExitUsage = 2;
inline constexpr int kExitBadData = 65;
inline constexpr int kExitBug = 70;

inline constexpr const char* kCannotAnswer = "cannot write the answer to standard output";

// What a working folder holds: what its owner writes and what the program writes.
inline constexpr std::array<const char*, 6> kOwnFiles{"candidate.json", "journal.jsonl", "plan.json",
                                                      "squad.json",     "roster.csv",    "programme.json"};

enum class Output { text, json };

struct Session {
  std::filesystem::path folder;
  Date as_of;
  Output output = Output::text;
  Streams streams;
  const Environment& environment;

  [[nodiscard]] bool json() const { return output == Output::json; }
  // A file of the working folder, printed without "./".
  [[nodiscard]] std::filesystem::path file(const std::string& name) const;
};

// A command line that cannot be followed: exit code 2.
class UsageError : public std::runtime_error {
 public:
  explicit UsageError(const std::string& what, std::string hint = {})
      : std::runtime_error(what), hint_(std::move(hint)) {}
  [[nodiscard]] const std::string& hint() const { return hint_; }

 private:
  std::string hint_;
};

// Tells every fault on `err`, and as {"errors": [...]} on `out` where JSON was asked for.
void tell_faults(const Diagnostics& faults, const Session& session);

// The same, and exit code 65.
[[nodiscard]] int refuse(const Diagnostics& faults, const Session& session);

// The faults of a file that the program has written: nobody mends it by hand, a command makes it anew.
[[nodiscard]] Diagnostics made_anew_by(const std::string& command, Diagnostics faults);

// The answer of a command that has changed something. Where it cannot be printed, the change is not undone:
// IoFailure, whose hint says that it was made, and `where` it is seen ("`backplan log --list` shows it").
void answer_change(const std::string& text, const std::string& where, const Session& session);

// "error: what" and "hint: ...".
void tell_failure(const std::string& what, const std::string& hint, std::ostream& err);
// The one place where exceptions end: the exit code of what was run, or that of the exception, told on
// `err` with what to do. An exception that nobody foresaw is a bug: exit code 70.
[[nodiscard]] int code_of(const std::function<int()>& command, std::ostream& err);
// "warning: what" and "hint: ...".
void tell_warning(const std::string& what, const std::string& hint, std::ostream& err);

}  // namespace backplan::cli

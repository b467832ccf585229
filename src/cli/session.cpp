#include "cli/session.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <ostream>

#include "backplan/printable.hpp"
#include "cli/finished_plan.hpp"
#include "io/json_write.hpp"
#include "store/failures.hpp"

namespace backplan::cli {
namespace {

constexpr std::size_t kMostFaultsTold = 200;  // beyond it the file is of another kind altogether

io::Json fault_json(const Diagnostic& fault) {
  io::Json json;
  json["severity"] = fault.severity == Severity::error ? "error" : "warning";
  json["file"] = fault.file;
  json["line"] = fault.line;
  json["column"] = fault.column;
  json["field"] = fault.field;
  json["message"] = fault.message;
  json["hint"] = fault.hint;
  return json;
}

}  // namespace

std::filesystem::path Session::file(const std::string& name) const {
  return (folder / name).lexically_normal();
}

void tell_faults(const Diagnostics& faults, const Session& session) {
  const std::size_t told = std::min(faults.size(), kMostFaultsTold);
  for (std::size_t i = 0; i < told; ++i) session.streams.err << to_string(faults[i]) << '\n';
  if (told < faults.size()) {
    session.streams.err << fmt::format("and {} more faults of the same files\n", faults.size() - told);
  }
  if (!session.json()) return;
  io::Json json;
  json["errors"] = io::Json::array();
  for (const Diagnostic& fault : faults) json["errors"].push_back(fault_json(fault));
  session.streams.out << io::pretty(json);
}

int refuse(const Diagnostics& faults, const Session& session) {
  tell_faults(faults, session);
  return kExitBadData;
}

void answer_change(const std::string& text, const std::string& where, const Session& session) {
  session.streams.out << text;
  session.streams.out.flush();
  if (!session.streams.out)
    throw store::IoFailure(kCannotAnswer, "the change was made: do not repeat it; " + where);
}

Diagnostics made_anew_by(const std::string& command, Diagnostics faults) {
  for (Diagnostic& fault : faults)
    fault.hint = fmt::format("the program writes this file itself: {} makes it anew", command);
  return faults;
}

void tell_failure(const std::string& what, const std::string& hint, std::ostream& err) {
  err << "error: " << printable(what) << '\n';
  if (!hint.empty()) err << "hint: " << printable(hint) << '\n';
}

void tell_warning(const std::string& what, const std::string& hint, std::ostream& err) {
  err << "warning: " << printable(what) << "\nhint: " << printable(hint) << '\n';
}

int code_of(const std::function<int()>& command, std::ostream& err) {
  try {
    return command();
  } catch (const UsageError& fault) {
    tell_failure(fault.what(), fault.hint(), err);
    return kExitUsage;
  } catch (const store::Failure& failure) {
    tell_failure(failure.what(), failure.hint(), err);
    return failure.exit_code();
  } catch (const BrokenPlan& bug) {
    tell_failure(fmt::format("a fault of the program: {}", bug.what()),
                 "nothing was changed; please report it with the files that led to it", err);
    return kExitBug;
  } catch (const std::exception& bug) {
    tell_failure(
        fmt::format("a fault of the program: {}", bug.what()),
        "look whether the folder's files are as you want them, and please report it with the files that "
        "led to it",
        err);
    return kExitBug;
  }
}

}  // namespace backplan::cli

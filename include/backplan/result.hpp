// How an operation that can meet bad user input answers: a value, or every fault that was found.
//
// The rule of this project: faults in what a user wrote are values (Diagnostics in a Result);
// failing disks and bugs are exceptions, caught once at the command line.
#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace backplan {

enum class Severity { warning, error };

// One fault in one place. `line` and `column` count from 1; 0 means "the whole file".
// `field` is a JSON pointer or a column name. Messages are lower-case, without a full stop, and say
// what was found and what was expected; the hint says what to do.
struct Diagnostic {
  Severity severity = Severity::error;
  std::string file;
  int line = 0;
  int column = 0;
  std::string field;
  std::string message;
  std::string hint;
  std::optional<std::string> missing_key = std::nullopt;  // the key whose absence this is about
};

using Diagnostics = std::vector<Diagnostic>;

// "file:line:column: error: what (at /field)" and a second line "hint: ...". What was found in a file is made
// printable here, once for all (printable.hpp).
[[nodiscard]] std::string to_string(const Diagnostic& diagnostic);

// As a reader of the file meets them: by line, then column; those of one place keep their order.
void sort_by_place(Diagnostics& diagnostics);

[[nodiscard]] bool has_error(const Diagnostics& diagnostics);

template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : state_(std::move(value)) {}                        // NOLINT(google-explicit-constructor)
  Result(Diagnostics faults) : state_(std::move(faults)) {}            // NOLINT(google-explicit-constructor)
  Result(Diagnostic fault) : state_(Diagnostics{std::move(fault)}) {}  // NOLINT(google-explicit-constructor)

  [[nodiscard]] bool ok() const { return std::holds_alternative<T>(state_); }
  explicit operator bool() const { return ok(); }

  // Asking a failed result for its value is a bug in the program.
  [[nodiscard]] const T& value() const& {
    require_value();
    return std::get<T>(state_);
  }
  [[nodiscard]] T&& value() && {
    require_value();
    return std::get<T>(std::move(state_));
  }
  [[nodiscard]] const Diagnostics& faults() const { return std::get<Diagnostics>(state_); }

 private:
  void require_value() const {
    if (!ok()) throw std::logic_error("value() of a failed Result");
  }
  std::variant<T, Diagnostics> state_;
};

// Adds the faults of a failed result to those found before.
template <class T>
void collect(const Result<T>& result, Diagnostics& faults) {
  if (!result.ok()) faults.insert(faults.end(), result.faults().begin(), result.faults().end());
}

}  // namespace backplan

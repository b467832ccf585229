// What can go wrong outside the program: missing files, full disks, a folder that may not be written.
// These are exceptions, caught once at the command line, each with its own exit code.
#pragma once

#include <stdexcept>
#include <string>
#include <system_error>
#include <utility>

namespace backplan::store {

// The reason of a failed call in words that do not depend on the locale.
[[nodiscard]] inline std::string reason(int error) {
  return std::error_code(error, std::generic_category()).message();
}

// Exit codes as /usr/include/sysexits.h numbers them.
inline constexpr int kExitMissingInput = 66;
inline constexpr int kExitCannotCreate = 73;
inline constexpr int kExitIoFailure = 74;
inline constexpr int kExitBusy = 75;

// `what()` names the file and the reason; `hint()` says what to do and may be empty.
class Failure : public std::runtime_error {
 public:
  Failure(int exit_code, const std::string& what, std::string hint)
      : std::runtime_error(what), exit_code_(exit_code), hint_(std::move(hint)) {}
  [[nodiscard]] int exit_code() const { return exit_code_; }
  [[nodiscard]] const std::string& hint() const { return hint_; }

 private:
  int exit_code_;
  std::string hint_;
};

// A file that must be there is not, or may not be read.
class MissingInput : public Failure {
 public:
  explicit MissingInput(const std::string& what, std::string hint = {})
      : Failure(kExitMissingInput, what, std::move(hint)) {}
};

// A file or folder cannot be made where it was asked for.
class CannotCreate : public Failure {
 public:
  explicit CannotCreate(const std::string& what, std::string hint = {})
      : Failure(kExitCannotCreate, what, std::move(hint)) {}
};

// Reading or writing began and then failed.
class IoFailure : public Failure {
 public:
  explicit IoFailure(const std::string& what, std::string hint = {})
      : Failure(kExitIoFailure, what, std::move(hint)) {}
};

// Another run of the program holds the file.
class Busy : public Failure {
 public:
  explicit Busy(const std::string& what, std::string hint = {}) : Failure(kExitBusy, what, std::move(hint)) {}
};

}  // namespace backplan::store

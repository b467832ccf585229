// Preloaded into the program: the Nth call that changes a file fails, writes half, or is the last thing that
// the process does. Standard streams are left alone. Driven by every_call.py, by variables:
//   FAILING_CALL   N, from 1
//   FAILING_HOW    error, half, kill
//   FAILING_TOLD   a file that is made when the Nth call came
#include <dlfcn.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <string_view>

namespace {

enum class Fate { goes_on, fails, half, dies };

Fate next_fate() {
  static long left = [] {
    const char* number = std::getenv("FAILING_CALL");
    return number == nullptr ? 0L : std::atol(number);
  }();
  if (left == 0 || --left != 0) return Fate::goes_on;
  if (const char* told = std::getenv("FAILING_TOLD")) {
    // Straight to the kernel: this call is not one of the program's.
    const long made = ::syscall(SYS_openat, AT_FDCWD, told, O_CREAT | O_WRONLY, 0600);
    if (made >= 0) ::syscall(SYS_close, made);
  }
  const char* how = std::getenv("FAILING_HOW");
  const std::string_view word = how == nullptr ? "error" : how;
  return word == "kill" ? Fate::dies : word == "half" ? Fate::half : Fate::fails;
}

[[noreturn]] void die() {
  ::kill(::getpid(), SIGKILL);
  ::_exit(137);
}

bool is_own_file(int descriptor) {
  struct stat status {};
  return descriptor > STDERR_FILENO && ::fstat(descriptor, &status) == 0 && S_ISREG(status.st_mode);
}

template <class Function>
Function next_of(const char* name) {
  return reinterpret_cast<Function>(::dlsym(RTLD_NEXT, name));
}

// A call that either happens or does not.
template <class Function, class... Arguments>
int call_or_fail(const char* name, int error, Arguments... arguments) {
  const Fate fate = next_fate();
  if (fate == Fate::dies) die();
  if (fate == Fate::fails) {
    errno = error;
    return -1;
  }
  return next_of<Function>(name)(arguments...);
}

}  // namespace

extern "C" {

ssize_t write(int descriptor, const void* bytes, size_t size) {
  const auto real = next_of<ssize_t (*)(int, const void*, size_t)>("write");
  if (!is_own_file(descriptor)) return real(descriptor, bytes, size);
  const Fate fate = next_fate();
  if (fate == Fate::fails) {
    errno = ENOSPC;
    return -1;
  }
  if (fate == Fate::half || fate == Fate::dies) {
    const ssize_t written = real(descriptor, bytes, (size + 1) / 2);
    if (fate == Fate::dies) die();
    return written;
  }
  return real(descriptor, bytes, size);
}

int fsync(int descriptor) { return call_or_fail<int (*)(int)>("fsync", EIO, descriptor); }
int fdatasync(int descriptor) { return call_or_fail<int (*)(int)>("fdatasync", EIO, descriptor); }
int rename(const char* from, const char* to) noexcept {
  return call_or_fail<int (*)(const char*, const char*)>("rename", EACCES, from, to);
}
int link(const char* from, const char* to) noexcept {
  return call_or_fail<int (*)(const char*, const char*)>("link", EACCES, from, to);
}
int mkstemp(char* name) { return call_or_fail<int (*)(char*)>("mkstemp", EACCES, name); }
int ftruncate(int descriptor, off_t size) noexcept {
  return call_or_fail<int (*)(int, off_t)>("ftruncate", EIO, descriptor, size);
}

}  // extern "C"

#include "store/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <ctime>
#include <system_error>

#include "store/failures.hpp"

extern char** environ;  // NOLINT: POSIX gives no header for it

namespace backplan::store {
namespace {

constexpr std::size_t kReadStep = 1U << 16U;  // bytes a read call: 64 KiB, as a pipe holds
constexpr std::size_t kBytesPerMegabyte = 1U << 20U;

// Owns a file descriptor.
class Handle {
 public:
  explicit Handle(int descriptor) : descriptor_(descriptor) {}
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;
  ~Handle() {
    if (descriptor_ >= 0) ::close(descriptor_);
  }
  [[nodiscard]] int get() const { return descriptor_; }
  // Closes now and tells whether that worked: some disks report a failed write only here.
  [[nodiscard]] bool close() {
    const int descriptor = descriptor_;
    descriptor_ = -1;
    return ::close(descriptor) == 0;
  }

 private:
  int descriptor_;
};

// Removes the temporary file unless it was renamed into place.
class Temporary {
 public:
  explicit Temporary(std::string path) : path_(std::move(path)) {}
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;
  ~Temporary() {
    if (!kept_) ::unlink(path_.c_str());
  }
  void keep() { kept_ = true; }

 private:
  std::string path_;
  bool kept_ = false;
};

bool write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

// Makes a rename last over a power cut. File systems that cannot sync a folder say EINVAL.
void sync_folder(const Path& folder) {
  const Handle handle(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (handle.get() < 0 || (::fsync(handle.get()) != 0 && errno != EINVAL)) {
    throw IoFailure(fmt::format("cannot sync the folder {}: {}", folder.string(), reason(errno)));
  }
}

Path folder_of(const Path& path) { return path.has_parent_path() ? path.parent_path() : Path("."); }

// The name of a file in the folder of `path` that holds the bytes, synced; mode 0600.
std::string write_beside(const Path& path, std::string_view bytes, const std::string& what,
                         const std::string& hint) {
  const Path folder = folder_of(path);
  std::string name = (folder / fmt::format(".{}.XXXXXX", path.filename().string())).string();
  Handle handle(::mkstemp(name.data()));  // makes the file with mode 0600
  if (handle.get() < 0) {
    throw CannotCreate(fmt::format("cannot write in {}: {}", folder.string(), reason(errno)),
                       "check that the folder is there and that you may write in it");
  }
  Temporary temporary(name);
  if (!write_all(handle.get(), bytes) || ::fsync(handle.get()) != 0) {
    throw IoFailure(fmt::format("{}: {}", what, reason(errno)), hint);
  }
  if (!handle.close()) throw IoFailure(fmt::format("{}: {}", what, reason(errno)), hint);
  temporary.keep();
  return name;
}

[[noreturn]] void throw_unreadable(const Path& path, int error, const std::string& hint) {
  const std::string what = fmt::format("cannot read {}: {}", path.string(), reason(error));
  if (error == ENOENT || error == ENOTDIR || error == EACCES) throw MissingInput(what, hint);
  throw IoFailure(what, hint);
}

std::vector<std::string> names_in(const Path& folder, bool folders) {
  std::vector<std::string> names;
  std::error_code error;
  for (std::filesystem::directory_iterator entry(folder, error), end; !error && entry != end;
       entry.increment(error)) {
    std::error_code type_error;
    const bool wanted = folders ? entry->is_directory(type_error) : entry->is_regular_file(type_error);
    const std::string name = entry->path().filename().string();
    if (wanted && name.front() != '.') names.push_back(name);
  }
  const bool absent = error == std::errc::no_such_file_or_directory || error == std::errc::not_a_directory;
  if (error && !absent) {
    throw IoFailure(fmt::format("cannot list {}: {}", folder.string(), reason(error.value())));
  }
  std::sort(names.begin(), names.end());
  return names;
}

// Where a name leads: the end of a chain of symbolic links, which need not be there.
Path followed(Path path) {
  constexpr int kMostLinks = 40;  // as the kernel follows (path_resolution(7))
  std::error_code error;
  for (int i = 0; i < kMostLinks && std::filesystem::is_symlink(path, error); ++i) {
    const Path target = std::filesystem::read_symlink(path, error);
    if (error) break;
    path = target.is_absolute() ? target : folder_of(path) / target;
  }
  return path;
}

void write_straight(const Path& path, std::string_view bytes) {
  const std::string what = fmt::format("cannot write {}", path.string());
  Handle handle(::open(path.c_str(), O_WRONLY | O_NOCTTY | O_CLOEXEC));
  if (handle.get() < 0) throw CannotCreate(fmt::format("{}: {}", what, reason(errno)));
  if (!write_all(handle.get(), bytes) || !handle.close()) {
    throw IoFailure(fmt::format("{}: {}", what, reason(errno)), "a part of it may have been written");
  }
}

}  // namespace

Result<std::string> read_file(const Path& path, std::size_t most_bytes, const std::string& hint) {
  const Handle handle(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (handle.get() < 0) throw_unreadable(path, errno, hint);
  std::string bytes;
  while (bytes.size() <= most_bytes) {
    const std::size_t before = bytes.size();
    bytes.resize(before + kReadStep);
    const ssize_t got = ::read(handle.get(), bytes.data() + before, kReadStep);
    if (got < 0 && errno != EINTR) throw_unreadable(path, errno, hint);
    bytes.resize(before + static_cast<std::size_t>(std::max<ssize_t>(got, 0)));
    if (got == 0) return bytes;
  }
  Diagnostic fault;
  fault.file = path.string();
  fault.message = fmt::format("the file is larger than {} MB", most_bytes / kBytesPerMegabyte);
  fault.hint = "no file of this kind comes near that size; check that it is the right one";
  return fault;
}

bool is_file(const Path& path) {
  std::error_code error;
  return std::filesystem::exists(path, error) && !std::filesystem::is_directory(path, error);
}

bool is_there(const Path& path) {
  std::error_code error;
  return std::filesystem::exists(path, error);
}

bool is_folder(const Path& path) {
  std::error_code error;
  return std::filesystem::is_directory(path, error);
}

std::vector<std::string> file_names(const Path& folder) { return names_in(folder, false); }
std::vector<std::string> folder_names(const Path& folder) { return names_in(folder, true); }

void write_atomically(const Path& path, std::string_view bytes) {
  const std::string what = fmt::format("cannot write {}", path.string());
  const std::string hint = "the old file, if there was one, is unchanged";
  const std::string name = write_beside(path, bytes, what, hint);
  Temporary temporary(name);
  if (::rename(name.c_str(), path.c_str()) != 0) {
    throw CannotCreate(fmt::format("{}: {}", what, reason(errno)), hint);
  }
  temporary.keep();
  sync_folder(folder_of(path));
}

bool is_pipe_or_device(const Path& path) {
  // Asked of the name itself: where /dev/stdout leads, only the system can follow.
  std::error_code error;
  return std::filesystem::is_other(std::filesystem::status(path, error));
}

void write_where_named(const Path& path, std::string_view bytes) {
  if (is_pipe_or_device(path)) return write_straight(path, bytes);
  write_atomically(followed(path), bytes);
}

bool is_same_place(const Path& one, const Path& other) {
  std::error_code error;
  if (std::filesystem::equivalent(one, other, error) && !error) return true;
  const auto real = [](const Path& path) {
    std::error_code unknown;
    const Path place = followed(path);
    return std::filesystem::weakly_canonical(folder_of(place), unknown) / place.filename();
  };
  return real(one) == real(other);
}

void write_new(const Path& path, std::string_view bytes) {
  const std::string what = fmt::format("cannot write {}", path.string());
  const std::string name = write_beside(path, bytes, what, "nothing was written");
  const Temporary temporary(name);
  // A second name for the file, which the system refuses where the name is taken; the first one goes.
  if (::link(name.c_str(), path.c_str()) != 0) {
    const int error = errno;
    throw CannotCreate(fmt::format("{}: {}", what, reason(error)),
                       error == EEXIST ? "it is unchanged; change it by hand" : "nothing was written");
  }
  sync_folder(folder_of(path));
}

void make_folders(const Path& folder) {
  if (folder.empty() || is_folder(folder)) return;
  make_folders(folder.parent_path());
  constexpr mode_t kOwnerOnly = 0700;
  if (::mkdir(folder.c_str(), kOwnerOnly) != 0 && errno != EEXIST) {
    throw CannotCreate(fmt::format("cannot make the folder {}: {}", folder.string(), reason(errno)));
  }
  if (!is_folder(folder)) throw CannotCreate(fmt::format("{} is in the way: not a folder", folder.string()));
}

std::optional<Path> user_data_folder(const Variables& variables) {
  const auto absolute = [&variables](const char* name) -> std::optional<Path> {
    const auto found = variables.find(name);
    if (found == variables.end() || !Path(found->second).is_absolute()) return std::nullopt;
    return Path(found->second);
  };
  if (const auto data = absolute("XDG_DATA_HOME")) return *data / "backplan";
  if (const auto home = absolute("HOME")) return *home / ".local" / "share" / "backplan";
  return std::nullopt;
}

Variables environment_variables() {
  Variables variables;
  for (char** entry = environ; entry != nullptr && *entry != nullptr; ++entry) {
    const std::string_view text(*entry);
    const std::size_t equals = text.find('=');
    if (equals == std::string_view::npos) continue;
    variables.emplace(text.substr(0, equals), text.substr(equals + 1));
  }
  return variables;
}

Date today() {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm local{};
  ::localtime_r(&now, &local);
  constexpr int kTmYearZero = 1900;  // struct tm counts years from 1900 and months from 0
  return Date(std::chrono::year(local.tm_year + kTmYearZero) /
              std::chrono::month(static_cast<unsigned>(local.tm_mon) + 1U) /
              std::chrono::day(static_cast<unsigned>(local.tm_mday)));
}

double seconds_passed() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

bool errors_go_to_a_terminal() { return ::isatty(STDERR_FILENO) != 0; }

}  // namespace backplan::store

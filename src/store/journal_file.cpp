#include "store/journal_file.hpp"

#include <fmt/format.h>
#include <sys/random.h>

#include <cerrno>
#include <chrono>
#include <system_error>

#include "store/failures.hpp"

namespace backplan::store {
namespace {

// With the pauses of the real disk: three seconds, a thousand times what an append takes.
constexpr int kMostTries = 300;
// A file that is replaced more often than this while we wait is not worth waiting for.
constexpr int kMostReopens = 20;

// An open journal; closing it gives the lock back.
class Opened {
 public:
  Opened(JournalDisk& disk, int descriptor) : disk_(&disk), descriptor_(descriptor) {}
  Opened(Opened&& other) noexcept : disk_(other.disk_), descriptor_(other.descriptor_) {
    other.descriptor_ = -1;
  }
  Opened(const Opened&) = delete;
  Opened& operator=(const Opened&) = delete;
  Opened& operator=(Opened&&) = delete;
  ~Opened() {
    if (descriptor_ >= 0) disk_->close(descriptor_);
  }
  [[nodiscard]] int get() const { return descriptor_; }

 private:
  JournalDisk* disk_;
  int descriptor_;
};

class Appender {
 public:
  Appender(JournalDisk& disk, const std::string& path) : disk_(disk), path_(path) {}

  void append(const JournalAppend& request) {
    const Opened file = open_locked();
    const long size = require(disk_.size(file.get())).value;
    // A crash may have left a piece of a line. Ended here, it becomes a line of its own.
    const bool torn = size > 0 && require(disk_.byte_at(file.get(), size - 1)).value != '\n';
    const std::string lines = request.lines();
    if (lines.empty()) return;
    // A journal that is empty may have been made a moment ago, by us or by one who has crashed since:
    // before its first entry its name must last.
    if (size == 0) require(disk_.sync_folder(path_));
    write(file.get(), size, (torn ? "\n" : "") + (size == 0 ? request.head : std::string()) + lines);
  }

 private:
  Call require(Call call) const {
    if (!call.ok()) fail(call.error, "nothing was added");
    return call;
  }

  [[noreturn]] void fail(int error, const std::string& what_now) const {
    throw IoFailure(fmt::format("cannot write {}: {}", path_, reason(error)), what_now);
  }

  Opened open_once() const {
    const Call opened = disk_.open(path_);
    if (!opened.ok()) {
      throw CannotCreate(fmt::format("cannot open {}: {}", path_, reason(opened.error)),
                         "check that the folder is there and that you may write in it");
    }
    return {disk_, static_cast<int>(opened.value)};
  }

  void lock(int descriptor) const {
    for (int tries = 0; tries < kMostTries; ++tries) {
      const Call locked = disk_.try_lock(descriptor);
      if (locked.ok()) return;
      if (locked.error != EWOULDBLOCK) fail(locked.error, "nothing was added");
      disk_.pause();
    }
    throw Busy(fmt::format("{} is being written by another program", path_), "nothing was added; try again");
  }

  // While we waited for the lock the file may have been replaced by another of that name: then we hold
  // the lock of a file that nobody will ever read.
  Opened open_locked() const {
    for (int tries = 0; tries < kMostReopens; ++tries) {
      Opened file = open_once();
      lock(file.get());
      if (require(disk_.is_same_file(file.get(), path_)).value == 1) return file;
    }
    throw Busy(fmt::format("{} is replaced again and again by another program", path_),
               "nothing was added; try again");
  }

  void write(int descriptor, long old_size, const std::string& bytes) const {
    const Call written = disk_.write(descriptor, bytes);
    const bool whole = written.ok() && written.value == static_cast<long>(bytes.size());
    if (!whole) cut_back(descriptor, old_size, written.ok() ? ENOSPC : written.error);
    // Not tried a second time: after a failed sync the kernel may have dropped the pages, and a second sync
    // would then succeed without having saved anything.
    const Call synced = disk_.sync_data(descriptor);
    if (!synced.ok()) cut_back(descriptor, old_size, synced.error);
  }

  [[noreturn]] void cut_back(int descriptor, long old_size, int error) const {
    const bool cut = disk_.truncate(descriptor, old_size).ok();
    fail(error, cut ? "nothing was added" : "a piece of the entry may be left; every read will report it");
  }

  JournalDisk& disk_;
  const std::string& path_;
};

}  // namespace

void append_to_journal(const JournalAppend& request, JournalDisk& disk) {
  const std::string path = request.path.string();
  Appender(disk, path).append(request);
}

std::string id_from(const IdParts& parts) {
  const auto& r = parts.random;
  const std::uint64_t time = parts.milliseconds & 0xffffffffffffU;  // 48 bits
  const unsigned version = 0x7000U | ((r[0] & 0x0fU) << 8U) | r[1];
  const unsigned variant = 0x8000U | ((r[2] & 0x3fU) << 8U) | r[3];
  return fmt::format("{:08x}-{:04x}-{:04x}-{:04x}-{:02x}{:02x}{:02x}{:02x}{:02x}{:02x}", time >> 16U,
                     time & 0xffffU, version, variant, r[4], r[5], r[6], r[7], r[8], r[9]);
}

std::string new_id() {
  IdParts parts;
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  parts.milliseconds =
      static_cast<std::uint64_t>(std::chrono::duration_cast<std::chrono::milliseconds>(now).count());
  // Requests of up to 256 bytes are never cut short (getrandom(2)).
  if (::getrandom(parts.random.data(), parts.random.size(), 0) != static_cast<ssize_t>(parts.random.size())) {
    throw IoFailure(fmt::format("no random numbers: {}", reason(errno)));
  }
  return id_from(parts);
}

}  // namespace backplan::store

#include "store/journal_disk.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>
#include <thread>

namespace backplan::store {
namespace {

// How long to wait between two tries for a lock: an append takes well under a millisecond.
constexpr std::chrono::milliseconds kPause(10);

Call answer(long value) { return value < 0 ? Call{value, errno} : Call{value, 0}; }

// Repeats a call that a signal interrupted before it did anything.
template <class Function>
Call repeat(Function call) {
  for (;;) {
    const Call result = answer(call());
    if (result.ok() || result.error != EINTR) return result;
  }
}

class RealDisk : public JournalDisk {
 public:
  Call open(const std::string& path) override {
    constexpr mode_t kOwnerOnly = 0600;
    return repeat(
        [&path] { return ::open(path.c_str(), O_RDWR | O_APPEND | O_CREAT | O_CLOEXEC, kOwnerOnly); });
  }

  Call try_lock(int descriptor) override {
    return repeat([descriptor] { return ::flock(descriptor, LOCK_EX | LOCK_NB); });
  }

  void pause() override { std::this_thread::sleep_for(kPause); }

  Call is_same_file(int descriptor, const std::string& path) override {
    struct stat opened {};
    struct stat named {};
    const Call first = answer(::fstat(descriptor, &opened));
    if (!first.ok()) return first;
    const Call second = answer(::stat(path.c_str(), &named));
    if (!second.ok()) return second.error == ENOENT ? Call{0, 0} : second;
    return {opened.st_ino == named.st_ino && opened.st_dev == named.st_dev ? 1 : 0, 0};
  }

  Call size(int descriptor) override {
    struct stat status {};
    const Call result = answer(::fstat(descriptor, &status));
    return result.ok() ? Call{status.st_size, 0} : result;
  }

  Call byte_at(int descriptor, long offset) override {
    unsigned char byte = 0;
    const Call result = repeat([&] { return ::pread(descriptor, &byte, 1, offset); });
    if (!result.ok()) return result;
    return result.value == 1 ? Call{byte, 0} : Call{-1, EIO};  // the file became shorter under our lock
  }

  Call write(int descriptor, std::string_view bytes) override {
    return repeat([&] { return ::write(descriptor, bytes.data(), bytes.size()); });
  }

  Call truncate(int descriptor, long size) override {
    return repeat([&] { return ::ftruncate(descriptor, size); });
  }

  Call sync_data(int descriptor) override { return answer(::fdatasync(descriptor)); }

  Call sync_folder(const std::string& path) override {
    const std::filesystem::path parent = std::filesystem::path(path).parent_path();
    const std::string folder = parent.empty() ? "." : parent.string();
    const Call opened = repeat([&] { return ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC); });
    if (!opened.ok()) return opened;
    const int descriptor = static_cast<int>(opened.value);
    const Call synced = answer(::fsync(descriptor));
    ::close(descriptor);
    // File systems that cannot sync a folder say EINVAL; there the name lasts by itself or not at all.
    return synced.error == EINVAL ? Call{0, 0} : synced;
  }

  Call close(int descriptor) override { return answer(::close(descriptor)); }
};

}  // namespace

JournalDisk& real_disk() {
  static RealDisk disk;
  return disk;
}

}  // namespace backplan::store

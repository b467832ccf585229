// The few system calls by which a journal is written, behind an interface, so that a test can stand in
// for the disk: stop after any call, lose what was not synced, fill up.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace backplan::store {

// What a call answered: a figure, or the errno of its failure.
struct Call {
  long value = 0;
  int error = 0;
  [[nodiscard]] bool ok() const { return error == 0; }
};

// Each function is one system call. Descriptors are numbers as open gives them.
class JournalDisk {
 public:
  JournalDisk() = default;
  JournalDisk(const JournalDisk&) = delete;
  JournalDisk& operator=(const JournalDisk&) = delete;
  virtual ~JournalDisk() = default;

  // Opens for reading and appending, with mode 0600 where it makes the file.
  virtual Call open(const std::string& path) = 0;
  // Takes the lock of the file without waiting; EWOULDBLOCK when another holds it.
  virtual Call try_lock(int descriptor) = 0;
  // Waits a moment before the next try.
  virtual void pause() = 0;
  // 1 when the path still names this open file, else 0 (it was replaced or removed).
  virtual Call is_same_file(int descriptor, const std::string& path) = 0;
  virtual Call size(int descriptor) = 0;
  // The byte at this place, 0 to 255.
  virtual Call byte_at(int descriptor, long offset) = 0;
  // Appends; may write less than asked.
  virtual Call write(int descriptor, std::string_view bytes) = 0;
  virtual Call truncate(int descriptor, long size) = 0;
  virtual Call sync_data(int descriptor) = 0;
  // Makes the name of the file last.
  virtual Call sync_folder(const std::string& path) = 0;
  virtual Call close(int descriptor) = 0;  // gives the lock back
};

// The calls themselves.
[[nodiscard]] JournalDisk& real_disk();

}  // namespace backplan::store

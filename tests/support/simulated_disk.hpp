// A disk in memory for the journal: it can stop after any call, fail any call, write short, and tell every
// state in which a power cut may leave it.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "store/journal_disk.hpp"

namespace backplan::support {

// The process is gone: nothing after this call happens.
struct Stopped : std::runtime_error {
  Stopped() : std::runtime_error("the simulated process stopped") {}
};

// What a power cut leaves: the bytes of the journal, or no file of that name.
using DiskState = std::optional<std::string>;

class SimulatedDisk : public store::JournalDisk {
 public:
  SimulatedDisk() = default;
  // Starts from what an earlier power cut has left.
  explicit SimulatedDisk(const DiskState& state);

  // The process stops instead of doing call number n, counted from 0. Negative: never.
  void stop_before_call(int n) { stop_at_ = n; }
  // Another process on the same machine: the cache stays, calls count from 0 again.
  void restart();
  // Call number n answers this error instead of being done.
  void fail_call(int n, int error) { failures_[n] = error; }
  // The next write takes only so many bytes.
  void write_at_most(std::size_t bytes) { write_limit_ = bytes; }
  // The lock answers EWOULDBLOCK so many times.
  void hold_lock(int times) { lock_held_ = times; }
  // The file is another one after the first lock, as after a rewrite.
  void replace_after_lock(const std::string& bytes) { replacement_ = bytes; }

  [[nodiscard]] int calls() const { return calls_; }
  [[nodiscard]] const std::vector<std::string>& names_of_calls() const { return names_; }
  // What another process reads now.
  [[nodiscard]] DiskState cached() const;
  // Every state that a power cut may leave now: any subset of what was not synced, writes also in part or
  // as zeros (the size came to the disk, the data did not).
  [[nodiscard]] std::set<DiskState> after_power_cut() const;

  store::Call open(const std::string& path) override;
  store::Call try_lock(int descriptor) override;
  void pause() override { ++pauses_; }
  store::Call is_same_file(int descriptor, const std::string& path) override;
  store::Call size(int descriptor) override;
  store::Call byte_at(int descriptor, long offset) override;
  store::Call write(int descriptor, std::string_view bytes) override;
  store::Call truncate(int descriptor, long size) override;
  store::Call sync_data(int descriptor) override;
  store::Call sync_folder(const std::string& path) override;
  store::Call close(int descriptor) override;

  [[nodiscard]] int pauses() const { return pauses_; }

 private:
  struct Change {
    std::size_t at = 0;  // offset of a write, size of a truncation
    std::optional<std::string> bytes;
  };
  // Counts the call; the error that it must answer, or 0.
  int begin(const char* name);

  bool exists_ = false;          // the name is there, in the cache
  bool name_lasts_ = false;      // and on the disk
  std::string cache_;            // what processes read
  std::string on_disk_;          // what was synced
  std::vector<Change> changes_;  // since then
  int calls_ = 0;
  int stop_at_ = -1;
  bool stopped_ = false;
  std::map<int, int> failures_;
  std::optional<std::size_t> write_limit_;
  std::optional<std::string> replacement_;
  int lock_held_ = 0;
  int pauses_ = 0;
  std::vector<std::string> names_;
};

}  // namespace backplan::support

#include "support/simulated_disk.hpp"

#include <algorithm>
#include <cerrno>

namespace backplan::support {

using store::Call;

SimulatedDisk::SimulatedDisk(const DiskState& state)
    : exists_(state.has_value()), name_lasts_(exists_), cache_(state.value_or("")), on_disk_(cache_) {}

void SimulatedDisk::restart() {
  calls_ = 0;
  stop_at_ = -1;
  stopped_ = false;
  failures_.clear();
  names_.clear();
}

DiskState SimulatedDisk::cached() const { return exists_ ? DiskState(cache_) : std::nullopt; }

int SimulatedDisk::begin(const char* name) {
  if (calls_ == stop_at_) {
    stopped_ = true;
    throw Stopped();
  }
  names_.emplace_back(name);
  const auto failure = failures_.find(calls_++);
  return failure == failures_.end() ? 0 : failure->second;
}

std::set<DiskState> SimulatedDisk::after_power_cut() const {
  std::set<std::string> states{on_disk_};
  for (const Change& change : changes_) {
    std::set<std::string> further = states;  // where this change was lost
    for (const std::string& state : states) {
      if (!change.bytes) {
        further.insert(state.substr(0, change.at));
        continue;
      }
      for (std::size_t length = 1; length <= change.bytes->size(); ++length) {
        std::string written = state;
        written.resize(std::max(written.size(), change.at + length), '\0');
        std::string zeros = written;
        written.replace(change.at, length, *change.bytes, 0, length);
        zeros.replace(change.at, length, length, '\0');
        further.insert(std::move(written));
        further.insert(std::move(zeros));
      }
    }
    states = std::move(further);
  }
  std::set<DiskState> all(states.begin(), states.end());
  if (!exists_) return {std::nullopt};
  if (!name_lasts_) all.insert(std::nullopt);
  return all;
}

Call SimulatedDisk::open(const std::string&) {
  if (const int error = begin("open")) return {-1, error};
  exists_ = true;
  return {3, 0};
}

Call SimulatedDisk::try_lock(int) {
  if (const int error = begin("try_lock")) return {-1, error};
  if (lock_held_ > 0) {
    --lock_held_;
    return {-1, EWOULDBLOCK};
  }
  return {0, 0};
}

Call SimulatedDisk::is_same_file(int, const std::string&) {
  if (const int error = begin("is_same_file")) return {-1, error};
  if (!replacement_) return {1, 0};
  cache_ = on_disk_ = *replacement_;
  replacement_.reset();
  return {0, 0};
}

Call SimulatedDisk::size(int) {
  if (const int error = begin("size")) return {-1, error};
  return {static_cast<long>(cache_.size()), 0};
}

Call SimulatedDisk::byte_at(int, long offset) {
  if (const int error = begin("byte_at")) return {-1, error};
  return {static_cast<unsigned char>(cache_.at(static_cast<std::size_t>(offset))), 0};
}

Call SimulatedDisk::write(int, std::string_view bytes) {
  if (const int error = begin("write")) return {-1, error};
  if (write_limit_) bytes = bytes.substr(0, *write_limit_);
  write_limit_.reset();
  changes_.push_back({cache_.size(), std::string(bytes)});
  cache_ += bytes;
  return {static_cast<long>(bytes.size()), 0};
}

Call SimulatedDisk::truncate(int, long size) {
  if (const int error = begin("truncate")) return {-1, error};
  cache_.resize(static_cast<std::size_t>(size));
  changes_.push_back({cache_.size(), std::nullopt});
  return {0, 0};
}

Call SimulatedDisk::sync_data(int) {
  if (const int error = begin("sync_data")) return {-1, error};
  on_disk_ = cache_;
  changes_.clear();
  return {0, 0};
}

Call SimulatedDisk::sync_folder(const std::string&) {
  if (const int error = begin("sync_folder")) return {-1, error};
  name_lasts_ = true;
  return {0, 0};
}

Call SimulatedDisk::close(int) {
  if (stopped_) return {0, 0};  // the kernel closes what a dead process held; a destructor must not throw
  names_.emplace_back("close");
  return {0, 0};
}

}  // namespace backplan::support

// Appending to a journal so that nothing that was acknowledged is ever lost, and nothing that is there is
// ever changed. docs/journal.md, "Safety".
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <string>

#include "store/files.hpp"
#include "store/journal_disk.hpp"

namespace backplan::store {

struct JournalAppend {
  Path path;
  std::string head;  // stands before the lines where the journal is empty
  // Whole lines with their ends: one entry, or a whole import. Called once, under the lock, so that what it
  // reads of the journal cannot change before it is written to. "" appends nothing; what it throws goes
  // through, and nothing is written.
  std::function<std::string()> lines;
};

// All lines are on the disk when this returns. When it throws, none of them counts: the file is as it was,
// or ends in a torn piece that readers report and the next append keeps as a line of its own. One lock, one
// write, one fdatasync. (A failed sync leaves open what a power cut would show.) Throws Busy, CannotCreate or
// IoFailure.
void append_to_journal(const JournalAppend& request, JournalDisk& disk = real_disk());

// What an id is made of: milliseconds since 1970, and ten random bytes.
struct IdParts {
  std::uint64_t milliseconds = 0;
  std::array<std::uint8_t, 10> random{};
};
// UUID version 7 (RFC 9562): ids of later milliseconds are greater.
[[nodiscard]] std::string id_from(const IdParts& parts);
// From the clock and the kernel's random numbers.
[[nodiscard]] std::string new_id();

}  // namespace backplan::store

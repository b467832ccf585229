// The journal as a whole over power cuts: what readers count after any of them.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "io/journal_reader.hpp"
#include "io/readers.hpp"
#include "io/value_text.hpp"
#include "store/journal_file.hpp"
#include "support/journal_entries.hpp"
#include "support/simulated_disk.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using support::entry;
using support::id_number;
using support::SimulatedDisk;

Journal read(const support::DiskState& state) {
  static const Standard standard = test::shipped_standard("us-army-aft");
  static const Model model = io::read_model(io::embedded_data()).value();
  const io::EntryContext context{standard, model, io::read_date("2027-02-01").value.value()};
  auto journal = io::read_journal(state.value_or(""), "journal.jsonl", context);
  EXPECT_TRUE(journal.ok());
  return journal.ok() ? std::move(journal).value() : Journal{};
}

void append(SimulatedDisk& disk, const std::string& lines) {
  store::append_to_journal({"journal.jsonl", io::journal_head(), [&lines] { return lines; }}, disk);
}

std::string import_of(int first, int count) {
  std::string lines;
  for (int number = first; number < first + count; ++number) {
    Entry one = entry(number, 3, support::missed("m"));
    one.batch = id_number(99);
    lines += io::entry_line(one);
  }
  return lines + io::closing_line(id_number(99), static_cast<std::size_t>(count));
}

bool counts(const Journal& journal, int number) {
  return std::any_of(journal.entries.begin(), journal.entries.end(),
                     [number](const Entry& one) { return one.id == id_number(number); });
}

// An import counts whole or not at all, an acknowledged one counts, and so does what came before it.
TEST(JournalCrash, LeavesAnImportWholeOrUncounted) {
  const std::string before = io::entry_line(entry(1, 2, support::missed("before")));
  const std::string lines = import_of(2, 3);
  int states = 0;
  int whole = 0;
  for (int n = 0; n <= 7; ++n) {
    SimulatedDisk disk;
    append(disk, before);
    disk.restart();
    disk.stop_before_call(n);
    bool acknowledged = false;
    try {
      append(disk, lines);
      acknowledged = true;
    } catch (const support::Stopped&) {
    }
    for (const auto& state : disk.after_power_cut()) {
      ++states;
      const Journal journal = read(state);
      EXPECT_TRUE(counts(journal, 1));
      const int counted = counts(journal, 2) + counts(journal, 3) + counts(journal, 4);
      EXPECT_TRUE(counted == 0 || counted == 3) << counted;
      EXPECT_TRUE(counted == 3 || !acknowledged);
      whole += counted == 3 ? 1 : 0;
      // Imported again it is there, and once.
      SimulatedDisk again(state);
      append(again, lines);
      EXPECT_EQ(effective(read(again.cached())).entries.size(), 4U);
    }
  }
  EXPECT_GT(states, 500);
  EXPECT_GT(whole, 1);
}

}  // namespace
}  // namespace backplan

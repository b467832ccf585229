// Appending to a journal: against a simulated disk that stops, fails and loses what was not synced, and
// with real processes.
#include "store/journal_file.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <set>
#include <string>
#include <vector>

#include "store/failures.hpp"
#include "support/simulated_disk.hpp"
#include "support/temporary_folder.hpp"

namespace backplan::store {
namespace {

using support::DiskState;
using support::SimulatedDisk;
using support::Stopped;
using test::TemporaryFolder;

const std::string kHead = "{\"head\"}\n";
const std::string kFirst = "{\"first\"}\n";
const std::string kBatch = "{\"batch 1\"}\n{\"batch 2\"}\n{\"batch end\"}\n";
const std::string kNext = "{\"next\"}\n";

void append(SimulatedDisk& disk, const std::string& lines) {
  append_to_journal({"folder/journal.jsonl", kHead, [&lines] { return lines; }}, disk);
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    lines.push_back(text.substr(start, end - start) + "\n");
    start = end + 1;
  }
  return lines;
}

// Whether every line of `wanted` stands whole on a line of its own.
bool has_lines(const DiskState& state, const std::string& wanted) {
  if (!state) return false;
  const auto all = lines_of(*state);
  for (const std::string& line : lines_of(wanted)) {
    if (std::count(all.begin(), all.end(), line) == 0) return false;
  }
  return true;
}

TEST(JournalFile, BeginsWithTheHeadAndAppendsWholeLines) {
  SimulatedDisk disk;
  append(disk, kFirst);
  append(disk, kBatch);
  EXPECT_EQ(disk.cached(), kHead + kFirst + kBatch);
  EXPECT_EQ(disk.after_power_cut(), std::set<DiskState>{kHead + kFirst + kBatch});
}

TEST(JournalFile, AppendsWithOneWriteAndOneSyncAfterTheFolder) {
  SimulatedDisk disk;
  append(disk, kFirst);
  EXPECT_EQ(disk.names_of_calls(), (std::vector<std::string>{"open", "try_lock", "is_same_file", "size",
                                                             "sync_folder", "write", "sync_data", "close"}));
  disk.restart();
  append(disk, kBatch);
  EXPECT_EQ(disk.names_of_calls(), (std::vector<std::string>{"open", "try_lock", "is_same_file", "size",
                                                             "byte_at", "write", "sync_data", "close"}));
}

TEST(JournalFile, WritesNothingWhenThereIsNothingToAdd) {
  SimulatedDisk disk(kHead);
  append(disk, "");
  EXPECT_EQ(disk.cached(), kHead);
}

// Ecosystem rule: a torn tail becomes a line of its own and is kept.
TEST(JournalFile, KeepsATornTailOfEveryLengthAsALineOfItsOwn) {
  const std::string whole = kHead + kFirst;
  for (std::size_t length = 1; length <= whole.size(); ++length) {
    SimulatedDisk disk(whole.substr(0, length));
    append(disk, kNext);
    EXPECT_EQ(disk.cached()->substr(0, length), whole.substr(0, length));
    EXPECT_TRUE(has_lines(disk.cached(), kNext)) << length;
    const bool torn = whole[length - 1] != '\n';
    EXPECT_EQ(disk.cached()->size(), length + (torn ? 1 : 0) + kNext.size());
  }
}

// What must hold on every disk that a power cut leaves: what was acknowledged is there, and the next
// append is saved and spoils nothing.
void judge_power_cut(const SimulatedDisk& disk, const std::string& acknowledged, const std::string& where) {
  for (const DiskState& state : disk.after_power_cut()) {
    EXPECT_TRUE(acknowledged.empty() || has_lines(state, acknowledged)) << where;
    SimulatedDisk next(state);
    append(next, kNext);
    for (const DiskState& later : next.after_power_cut()) {
      EXPECT_TRUE(has_lines(later, acknowledged + kNext)) << where;
      EXPECT_EQ(later->substr(0, state.value_or("").size()), state.value_or("")) << where;
    }
  }
}

TEST(JournalFile, LosesNothingAcknowledgedWhenTheMachineStopsBetweenAnyTwoCalls) {
  int stops = 0;
  for (const std::string& before : {std::string(), kFirst}) {
    for (int n = 0;; ++n) {
      SimulatedDisk disk;
      if (!before.empty()) append(disk, before);
      disk.restart();
      disk.stop_before_call(n);
      std::string acknowledged = before;
      bool ended = false;
      try {
        append(disk, kBatch);
        acknowledged += kBatch;
        ended = true;
      } catch (const Stopped&) {
        ++stops;
      }
      judge_power_cut(disk, acknowledged, "stopped before call " + std::to_string(n));
      if (ended) break;
    }
  }
  EXPECT_EQ(stops, 14);  // seven calls each
}

// The process dies, the machine lives: the next writer finds the cache, and a later power cut must not
// take what he was told is saved. The name of a file that the dead one made is the trap here.
TEST(JournalFile, SavesTheNextEntryAlsoAfterAnotherWriterDiedAtAnyCall) {
  for (int n = 0; n <= 7; ++n) {
    SimulatedDisk disk;
    disk.stop_before_call(n);
    try {
      append(disk, kFirst);
    } catch (const Stopped&) {
    }
    disk.restart();
    append(disk, kNext);
    for (const DiskState& state : disk.after_power_cut()) EXPECT_TRUE(has_lines(state, kNext)) << n;
  }
}

TEST(JournalFile, FailsWholeWhenAnyCallFails) {
  for (const int error : {EIO, ENOSPC, EDQUOT}) {
    for (int n = 0;; ++n) {
      SimulatedDisk disk;
      append(disk, kFirst);
      disk.restart();
      disk.fail_call(n, error);
      bool failed = false;
      try {
        append(disk, kBatch);
      } catch (const Failure& failure) {
        failed = true;
        EXPECT_TRUE(failure.exit_code() == 73 || failure.exit_code() == 74) << n;
      }
      if (!failed) break;
      EXPECT_EQ(disk.cached(), kHead + kFirst) << n;  // what readers see now
      judge_power_cut(disk, kFirst, "failed call " + std::to_string(n));
    }
  }
}

TEST(JournalFile, CutsAShortWriteBackToTheOldLength) {
  for (std::size_t written = 0; written < kBatch.size(); ++written) {
    SimulatedDisk disk;
    append(disk, kFirst);
    disk.write_at_most(written);
    try {
      append(disk, kBatch);
      FAIL() << "a full disk was not told";
    } catch (const IoFailure& failure) {
      EXPECT_NE(std::string(failure.what()).find("No space left"), std::string::npos);
      EXPECT_EQ(failure.hint(), "nothing was added");
    }
    EXPECT_EQ(disk.cached(), kHead + kFirst);
    judge_power_cut(disk, kFirst, "short write");
  }
}

TEST(JournalFile, SaysSoWhenItCannotCutBackAndTheNextAppendMendsTheLine) {
  SimulatedDisk disk;
  append(disk, kFirst);
  disk.restart();
  disk.write_at_most(10);
  disk.fail_call(6, EIO);  // open, try_lock, is_same_file, size, byte_at, write, truncate
  try {
    append(disk, kBatch);
    FAIL() << "no exception";
  } catch (const IoFailure& failure) {
    EXPECT_NE(failure.hint().find("a piece of the entry may be left"), std::string::npos);
  }
  disk.restart();
  append(disk, kNext);
  EXPECT_EQ(disk.cached(), kHead + kFirst + kBatch.substr(0, 10) + "\n" + kNext);
}

TEST(JournalFile, DoesNotTryASyncASecondTime) {
  SimulatedDisk disk;
  append(disk, kFirst);
  disk.restart();
  disk.fail_call(6, EIO);  // the sync
  EXPECT_THROW(append(disk, kBatch), IoFailure);
  EXPECT_EQ(std::count(disk.names_of_calls().begin(), disk.names_of_calls().end(), "sync_data"), 1);
}

TEST(JournalFile, WaitsForTheLockAndThenSaysBusy) {
  SimulatedDisk disk(kHead);
  disk.hold_lock(5);
  append(disk, kFirst);
  EXPECT_EQ(disk.pauses(), 5);
  disk.hold_lock(1'000'000);
  try {
    append(disk, kNext);
    FAIL() << "no exception";
  } catch (const Busy& busy) {
    EXPECT_EQ(busy.exit_code(), 75);
  }
  EXPECT_EQ(disk.cached(), kHead + kFirst);
}

TEST(JournalFile, OpensAnewWhenTheFileWasReplacedWhileItWaited) {
  SimulatedDisk disk(kHead + "{\"old\"}\n");
  disk.replace_after_lock(kHead + "{\"rewritten\"}\n");
  append(disk, kNext);
  EXPECT_EQ(disk.cached(), kHead + "{\"rewritten\"}\n" + kNext);
}

// Real files and processes.

void append_to(const std::string& path, const std::string& lines) {
  append_to_journal({path, kHead, [&lines] { return lines; }});
}

TEST(JournalFile, IsForTheOwnerOnly) {
  const TemporaryFolder folder;
  append_to((folder.path() / "journal.jsonl").string(), kFirst);
  struct stat status {};
  ASSERT_EQ(::stat((folder.path() / "journal.jsonl").c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777U, 0600U);
  EXPECT_EQ(folder.read("journal.jsonl"), kHead + kFirst);
}

TEST(JournalFile, SaysWhenTheFolderIsNotThere) {
  const TemporaryFolder folder;
  EXPECT_THROW(append_to((folder.path() / "no" / "journal.jsonl").string(), kFirst), CannotCreate);
}

TEST(JournalFile, LeavesTheFileAsItWasWhenTheLinesCannotBeMade) {
  const TemporaryFolder folder;
  folder.write("journal.jsonl", kHead);
  const auto path = folder.path() / "journal.jsonl";
  EXPECT_THROW(append_to_journal({path, kHead, []() -> std::string { throw std::runtime_error("no"); }}),
               std::runtime_error);
  EXPECT_EQ(folder.read("journal.jsonl"), kHead);
  append_to(path.string(), kNext);  // the lock was given back
}

TEST(JournalFile, KeepsTheOldBytesWhenARealDiskIsFull) {
  const TemporaryFolder folder;
  const std::string path = (folder.path() / "journal.jsonl").string();
  append_to(path, kFirst);
  rlimit before{};
  ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
  rlimit small = before;
  small.rlim_cur = 1000;  // the write stops in the middle, as on a full disk
  const auto handler = std::signal(SIGXFSZ, SIG_IGN);
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
  EXPECT_THROW(append_to(path, std::string(5000, 'x') + "\n"), IoFailure);
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &before), 0);
  std::signal(SIGXFSZ, handler);
  EXPECT_EQ(folder.read("journal.jsonl"), kHead + kFirst);
}

TEST(JournalFile, IsBusyWhileAnotherProgramHoldsTheLock) {
  const TemporaryFolder folder;
  const std::string path = folder.write("journal.jsonl", kHead).string();
  const int holder = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  ASSERT_GE(holder, 0);
  ASSERT_EQ(::flock(holder, LOCK_EX), 0);
  EXPECT_THROW(append_to(path, kFirst), Busy);
  ::close(holder);
  append_to(path, kFirst);
  EXPECT_EQ(folder.read("journal.jsonl"), kHead + kFirst);
}

std::string numbered(const std::string& writer, int number) {
  return "{\"" + writer + "\":" + std::to_string(number) + ",\"pad\":\"" + std::string(200, 'p') + "\"}\n";
}

// Starts a writer of entries 0, 1, 2, ...; it sends a byte down the pipe for each one that is saved.
struct Writer {
  pid_t process = 0;
  int acknowledgements = -1;
};

Writer start_writer(const std::string& path, const std::string& name, int entries) {
  int ends[2] = {-1, -1};
  EXPECT_EQ(::pipe(ends), 0);
  const pid_t process = ::fork();
  if (process == 0) {
    ::close(ends[0]);
    for (int i = 0; i < entries; ++i) {
      append_to(path, numbered(name, i));
      if (::write(ends[1], "x", 1) != 1) ::_exit(1);
    }
    ::_exit(0);
  }
  ::close(ends[1]);
  return {process, ends[0]};
}

int wait_for_acknowledgements(const Writer& writer, int wanted) {
  int seen = 0;
  char byte = 0;
  while (seen < wanted && ::read(writer.acknowledgements, &byte, 1) == 1) ++seen;
  return seen;
}

TEST(JournalFile, LosesNoAcknowledgedEntryWhenWritersAreKilled) {
  const TemporaryFolder folder;
  const std::string path = (folder.path() / "journal.jsonl").string();
  constexpr int kRounds = 25;
  std::vector<int> saved;
  for (int round = 0; round < kRounds; ++round) {
    const Writer writer = start_writer(path, "w" + std::to_string(round), 1'000'000);
    int seen = wait_for_acknowledgements(writer, 1 + round * 3 % 7);
    ::usleep(static_cast<useconds_t>(37 * round));  // somewhere inside the next append
    ASSERT_EQ(::kill(writer.process, SIGKILL), 0);
    ASSERT_EQ(::waitpid(writer.process, nullptr, 0), writer.process);
    seen += wait_for_acknowledgements(writer, 1'000'000);
    ::close(writer.acknowledgements);
    saved.push_back(seen);
  }
  const std::string text = folder.read("journal.jsonl");
  for (int round = 0; round < kRounds; ++round) {
    for (int i = 0; i < saved[static_cast<std::size_t>(round)]; ++i) {
      EXPECT_TRUE(has_lines(text, numbered("w" + std::to_string(round), i))) << round << " " << i;
    }
  }
}

TEST(JournalFile, ThreeWritersAtOnceLoseAndMixNothing) {
  const TemporaryFolder folder;
  const std::string path = (folder.path() / "journal.jsonl").string();
  constexpr int kEntries = 60;
  std::vector<Writer> writers;
  for (const char* name : {"a", "b", "c"}) writers.push_back(start_writer(path, name, kEntries));
  for (const Writer& writer : writers) {
    EXPECT_EQ(wait_for_acknowledgements(writer, kEntries), kEntries);
    int status = -1;
    ASSERT_EQ(::waitpid(writer.process, &status, 0), writer.process);
    EXPECT_EQ(status, 0);
    ::close(writer.acknowledgements);
  }
  const auto lines = lines_of(folder.read("journal.jsonl"));
  EXPECT_EQ(lines.size(), 3U * kEntries + 1U);  // and one head
  EXPECT_EQ(lines.front(), kHead);
  for (const char* name : {"a", "b", "c"}) {
    for (int i = 0; i < kEntries; ++i) {
      EXPECT_EQ(std::count(lines.begin(), lines.end(), numbered(name, i)), 1) << name << i;
    }
  }
}

// RFC 9562, appendix A.6: the example of a version 7 UUID.
TEST(Ids, AreVersionSevenAsTheStandardShowsThem) {
  IdParts parts;
  parts.milliseconds = 0x017F22E279B0;
  parts.random = {0x0C, 0xC3, 0x18, 0xC4, 0xDC, 0x0C, 0x0C, 0x07, 0x39, 0x8F};
  EXPECT_EQ(id_from(parts), "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
}

TEST(Ids, OfLaterMillisecondsAreGreaterAndNoTwoAreAlike) {
  IdParts early;
  early.milliseconds = 1000;
  early.random.fill(0xFF);
  IdParts late;
  late.milliseconds = 1001;
  EXPECT_LT(id_from(early), id_from(late));
  std::set<std::string> ids;
  for (int i = 0; i < 1000; ++i) ids.insert(new_id());
  EXPECT_EQ(ids.size(), 1000U);
}

}  // namespace
}  // namespace backplan::store

#include "store/files.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <filesystem>
#include <string>

#include "store/failures.hpp"
#include "support/temporary_folder.hpp"

namespace backplan::store {
namespace {

using test::TemporaryFolder;

TEST(WriteNew, WritesOnceAndNeverOverAFile) {
  const TemporaryFolder folder;
  write_new(folder.path() / "a.json", "first");
  EXPECT_EQ(folder.read("a.json"), "first");
  EXPECT_THROW(write_new(folder.path() / "a.json", "second"), CannotCreate);
  EXPECT_EQ(folder.read("a.json"), "first");
  EXPECT_EQ(folder.names(), "a.json");
  EXPECT_THROW(write_new(folder.path() / "none" / "a.json", "x"), CannotCreate);
}

TEST(ReadFile, GivesAllBytes) {
  const TemporaryFolder folder;
  const std::string bytes("a\0b\n\xff", 5);
  EXPECT_EQ(read_file(folder.write("x", bytes), 100).value(), bytes);
}

TEST(ReadFile, TakesAFileOfExactlyTheLimitAndRefusesOneByteMore) {
  const TemporaryFolder folder;
  EXPECT_TRUE(read_file(folder.write("x", std::string(1U << 20U, 'x')), 1U << 20U).ok());
  const auto result = read_file(folder.write("y", std::string((1U << 20U) + 1, 'x')), 1U << 20U);
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.faults().front().message, "the file is larger than 1 MB");
}

TEST(ReadFile, SaysWhatIsMissingWithTheHint) {
  const TemporaryFolder folder;
  try {
    (void)read_file(folder.path() / "gone", 10, "make one");
    FAIL() << "no exception";
  } catch (const MissingInput& failure) {
    EXPECT_NE(std::string(failure.what()).find("gone: No such file"), std::string::npos);
    EXPECT_EQ(failure.hint(), "make one");
    EXPECT_EQ(failure.exit_code(), 66);
  }
}

TEST(ReadFile, AFolderIsNoFile) {
  const TemporaryFolder folder;
  EXPECT_THROW((void)read_file(folder.path(), 10), IoFailure);
}

TEST(WriteAtomically, WritesForTheOwnerOnlyAndLeavesNothingElse) {
  const TemporaryFolder folder;
  write_atomically(folder.path() / "plan.json", "first");
  write_atomically(folder.path() / "plan.json", "second");
  EXPECT_EQ(folder.read("plan.json"), "second");
  EXPECT_EQ(folder.names(), "plan.json");
  struct stat status {};
  ASSERT_EQ(::stat((folder.path() / "plan.json").c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777U, 0600U);
}

TEST(WriteAtomically, SaysWhenTheFolderIsNotThere) {
  const TemporaryFolder folder;
  EXPECT_THROW(write_atomically(folder.path() / "no" / "plan.json", "x"), CannotCreate);
}

TEST(WriteAtomically, LeavesNoTemporaryFileWhenTheNameIsTaken) {
  const TemporaryFolder folder;
  folder.write("plan.json/inside", "x");
  EXPECT_THROW(write_atomically(folder.path() / "plan.json", "x"), CannotCreate);
  EXPECT_EQ(folder.names(), "plan.json");
}

TEST(WriteAtomically, KeepsTheOldFileWhenTheDiskIsFull) {
  const TemporaryFolder folder;
  write_atomically(folder.path() / "plan.json", "old");
  // A limit on the size of files fails a write in the middle, as a full disk does.
  rlimit before{};
  ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
  rlimit small = before;
  small.rlim_cur = 1000;
  const auto handler = std::signal(SIGXFSZ, SIG_IGN);
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
  EXPECT_THROW(write_atomically(folder.path() / "plan.json", std::string(5000, 'x')), IoFailure);
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &before), 0);
  ASSERT_NE(std::signal(SIGXFSZ, handler), SIG_ERR);
  EXPECT_EQ(folder.read("plan.json"), "old");
  EXPECT_EQ(folder.names(), "plan.json");
}

TEST(WriteWhereNamed, WritesThroughALinkAndLeavesTheLink) {
  const TemporaryFolder folder;
  folder.write("there/real.csv", "old");
  std::filesystem::create_symlink("there/real.csv", folder.path() / "link.csv");
  std::filesystem::create_symlink("there/new.csv", folder.path() / "to_come.csv");
  write_where_named(folder.path() / "link.csv", "new");
  write_where_named(folder.path() / "to_come.csv", "fresh");
  EXPECT_TRUE(std::filesystem::is_symlink(folder.path() / "link.csv"));
  EXPECT_TRUE(std::filesystem::is_symlink(folder.path() / "to_come.csv"));
  EXPECT_EQ(folder.read("there/real.csv"), "new");
  EXPECT_EQ(folder.read("there/new.csv"), "fresh");
}

TEST(WriteWhereNamed, WritesIntoAPipeWithoutReplacingIt) {
  const TemporaryFolder folder;
  const Path pipe = folder.path() / "pipe";
  ASSERT_EQ(::mkfifo(pipe.c_str(), 0600), 0);
  const int reader = ::open(pipe.c_str(), O_RDONLY | O_NONBLOCK);
  ASSERT_GE(reader, 0);
  write_where_named(pipe, "hello");
  std::array<char, 16> got{};
  EXPECT_EQ(::read(reader, got.data(), got.size()), 5);
  EXPECT_STREQ(got.data(), "hello");
  ::close(reader);
  EXPECT_TRUE(std::filesystem::is_fifo(pipe));
}

TEST(SamePlace, IsSeenThroughPathsAndLinksAndBeforeTheFileIsThere) {
  const TemporaryFolder folder;
  const Path journal = folder.write("a/journal.jsonl", "x");
  std::filesystem::create_symlink("a", folder.path() / "b");
  std::filesystem::create_symlink("a/journal.jsonl", folder.path() / "link");
  std::filesystem::create_hard_link(journal, folder.path() / "second_name");
  for (const char* name : {"a/../a/./journal.jsonl", "b/journal.jsonl", "link", "second_name"})
    EXPECT_TRUE(is_same_place(folder.path() / name, journal)) << name;
  EXPECT_TRUE(is_same_place(folder.path() / "b/plan.json", folder.path() / "a/plan.json"));
  EXPECT_FALSE(is_same_place(folder.path() / "journal.jsonl", journal));
  EXPECT_FALSE(is_same_place(folder.path() / "a/plan.csv", journal));
}

TEST(FileNames, AreSortedWithoutFoldersAndHiddenFiles) {
  const TemporaryFolder folder;
  folder.write("b", "");
  folder.write("a", "");
  folder.write(".hidden", "");
  folder.write("sub/c", "");
  EXPECT_EQ(file_names(folder.path()), (std::vector<std::string>{"a", "b"}));
  EXPECT_EQ(folder_names(folder.path()), (std::vector<std::string>{"sub"}));
  EXPECT_TRUE(file_names(folder.path() / "nowhere").empty());
}

TEST(MakeFolders, MakesAllOfThemAndRefusesAFileInTheWay) {
  const TemporaryFolder folder;
  make_folders(folder.path() / "a" / "b");
  EXPECT_TRUE(is_folder(folder.path() / "a" / "b"));
  folder.write("file", "");
  EXPECT_THROW(make_folders(folder.path() / "file" / "b"), CannotCreate);
}

// XDG base directory specification 0.8: paths in the variables must be absolute, others are ignored.
TEST(UserDataFolder, FollowsTheSpecification) {
  EXPECT_EQ(user_data_folder({{"XDG_DATA_HOME", "/d"}, {"HOME", "/h"}}), Path("/d/backplan"));
  EXPECT_EQ(user_data_folder({{"HOME", "/h"}}), Path("/h/.local/share/backplan"));
  EXPECT_EQ(user_data_folder({{"XDG_DATA_HOME", "d"}, {"HOME", "/h"}}), Path("/h/.local/share/backplan"));
  EXPECT_EQ(user_data_folder({{"XDG_DATA_HOME", ""}, {"HOME", "h"}}), std::nullopt);
  EXPECT_EQ(user_data_folder({}), std::nullopt);
}

TEST(Failures, CarryTheExitCodesOfTheDesign) {
  EXPECT_EQ(MissingInput("x").exit_code(), 66);
  EXPECT_EQ(CannotCreate("x").exit_code(), 73);
  EXPECT_EQ(IoFailure("x").exit_code(), 74);
  EXPECT_EQ(Busy("x").exit_code(), 75);
}

}  // namespace
}  // namespace backplan::store

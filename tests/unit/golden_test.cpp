// Whole runs of the program against stored answers. A case is a folder of tests/golden: `args` (one
// argument a line), the input files, `stdin` where there is one, `before` where another command (arguments
// as in `args`) has to run first, and the expected `stdout`, `stderr` and `exit`. UPDATE_GOLDEN=1 writes the
// answers anew; a change of them is a commit with its reason.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include "support/command.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

namespace fs = std::filesystem;
using support::bytes_of;

fs::path golden_folder() { return fs::path(BACKPLAN_SOURCE_DIR) / "tests" / "golden"; }

std::vector<std::string> cases() {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(golden_folder())) {
    if (entry.is_directory()) names.push_back(entry.path().filename().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

// Runs inside a copy of the case, so that no path of this machine comes into the answers.
class InFolder {
 public:
  explicit InFolder(const fs::path& folder) : before_(fs::current_path()) { fs::current_path(folder); }
  InFolder(const InFolder&) = delete;
  InFolder& operator=(const InFolder&) = delete;
  ~InFolder() { fs::current_path(before_); }

 private:
  fs::path before_;
};

std::vector<std::string> lines_of(const fs::path& path) {
  std::vector<std::string> all;
  std::istringstream text(bytes_of(path));
  for (std::string line; std::getline(text, line);) all.push_back(line);
  return all;
}

support::Answer run_case(const fs::path& folder) {
  const test::TemporaryFolder copy;
  fs::copy(folder, copy.path(), fs::copy_options::recursive);
  const InFolder inside(copy.path());
  if (fs::exists("before")) {
    const support::Answer before = support::run_command(lines_of("before"));
    EXPECT_LE(before.code, 1) << before.err;  // done, or ran well and the answer is no
  }
  return support::run_command(lines_of("args"), bytes_of("stdin"), {}, support::Ids::counted);
}

class Golden : public testing::TestWithParam<std::string> {};

TEST_P(Golden, GivesTheStoredAnswer) {
  const fs::path folder = golden_folder() / GetParam();
  const support::Answer answer = run_case(folder);
  const std::string code = std::to_string(answer.code) + "\n";
  EXPECT_EQ(answer.out, support::stored_answer(folder / "stdout", answer.out));
  EXPECT_EQ(answer.err, support::stored_answer(folder / "stderr", answer.err));
  EXPECT_EQ(code, support::stored_answer(folder / "exit", code));
}

INSTANTIATE_TEST_SUITE_P(Cases, Golden, testing::ValuesIn(cases()), [](const auto& one) {
  std::string name = one.param;
  for (char& byte : name) byte = byte == '-' ? '_' : byte;
  return name;
});

TEST(GoldenCases, AreThere) { EXPECT_GE(cases().size(), 5U); }

}  // namespace
}  // namespace backplan

// Whole runs of the program against stored answers. A case is a folder of tests/golden: `args` (one
// argument a line), the input files, `stdin` where there is one, and the expected `stdout`, `stderr`
// and `exit`. UPDATE_GOLDEN=1 writes the answers anew; a change of them is a commit with its reason.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include "support/command.hpp"
#include "support/temporary_folder.hpp"

namespace backplan {
namespace {

namespace fs = std::filesystem;

fs::path golden_folder() { return fs::path(BACKPLAN_SOURCE_DIR) / "tests" / "golden"; }

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

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

support::Answer run_case(const fs::path& folder) {
  const test::TemporaryFolder copy;
  fs::copy(folder, copy.path(), fs::copy_options::recursive);
  const InFolder inside(copy.path());
  std::vector<std::string> arguments;
  std::istringstream lines(bytes_of("args"));
  for (std::string line; std::getline(lines, line);) arguments.push_back(line);
  return support::run_command(arguments, bytes_of("stdin"), {}, support::Ids::counted);
}

class Golden : public testing::TestWithParam<std::string> {};

TEST_P(Golden, GivesTheStoredAnswer) {
  const fs::path folder = golden_folder() / GetParam();
  const support::Answer answer = run_case(folder);
  const std::string code = std::to_string(answer.code) + "\n";
  if (std::getenv("UPDATE_GOLDEN") != nullptr) {  // NOLINT(concurrency-mt-unsafe): one thread here
    std::ofstream(folder / "stdout", std::ios::binary) << answer.out;
    std::ofstream(folder / "stderr", std::ios::binary) << answer.err;
    std::ofstream(folder / "exit", std::ios::binary) << code;
  }
  EXPECT_EQ(answer.out, bytes_of(folder / "stdout"));
  EXPECT_EQ(answer.err, bytes_of(folder / "stderr"));
  EXPECT_EQ(code, bytes_of(folder / "exit"));
}

INSTANTIATE_TEST_SUITE_P(Cases, Golden, testing::ValuesIn(cases()), [](const auto& one) {
  std::string name = one.param;
  for (char& byte : name) byte = byte == '-' ? '_' : byte;
  return name;
});

TEST(GoldenCases, AreThere) { EXPECT_GE(cases().size(), 5U); }

}  // namespace
}  // namespace backplan

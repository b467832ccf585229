// What the fuzzers start from and what they found, replayed without them. A case that broke a reader stays
// for good in tests/fuzz/found/READER.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "fuzz/targets.hpp"
#include "support/text.hpp"

namespace backplan::fuzz {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> cases_in(const std::string& folder) {
  std::vector<fs::path> files;
  const fs::path path = fs::path(BACKPLAN_SOURCE_DIR) / "tests" / "fuzz" / folder;
  if (!fs::is_directory(path)) return files;
  for (const auto& entry : fs::directory_iterator(path)) files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

class Fuzzed : public testing::TestWithParam<Target> {};

TEST_P(Fuzzed, HoldsOnEverythingTheFuzzersStartFromOrFound) {
  const Target& target = GetParam();
  std::vector<fs::path> files = cases_in("corpus/" + target.reader);
  EXPECT_GE(files.size(), 1U) << "nothing to start from";
  for (const fs::path& file : cases_in("found/" + target.reader)) files.push_back(file);
  int taken = 0;
  for (const fs::path& file : files) {
    EXPECT_NO_THROW(taken += target.feed(support::bytes_of(file)) ? 1 : 0) << file.filename();
  }
  EXPECT_GE(taken, 1) << "a reader that refuses everything is not tested";
}

// The beginnings of what is there, and single bytes changed: a taste of the fuzzers with any compiler.
TEST_P(Fuzzed, HoldsOnCutAndChangedFiles) {
  constexpr std::size_t kMostCuts = 60;
  const Target& target = GetParam();
  for (const fs::path& file : cases_in("corpus/" + target.reader)) {
    const std::string whole = support::bytes_of(file);
    const std::size_t step = whole.size() / kMostCuts + 1;
    for (std::size_t at = 0; at < whole.size(); at += step) {
      EXPECT_NO_THROW(static_cast<void>(target.feed(whole.substr(0, at))))
          << file.filename() << " cut at " << at;
      for (const char byte : {'\0', '"', '9', '\xFF'}) {
        std::string changed = whole;
        changed[at] = byte;
        EXPECT_NO_THROW(static_cast<void>(target.feed(changed))) << file.filename() << " changed at " << at;
      }
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Readers, Fuzzed, testing::ValuesIn(targets()),
                         [](const auto& one) { return one.param.reader; });

}  // namespace
}  // namespace backplan::fuzz

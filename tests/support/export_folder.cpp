#include "support/export_folder.hpp"

#include <gtest/gtest.h>

namespace backplan::support {

Answer ExportFolder::run(std::vector<std::string> words) const {
  words.insert(words.begin(), "export");
  words.insert(words.end(), {"-C", where(), "--as-of", kToday});
  return run_command(words);
}

std::string ExportFolder::printed(const std::string& kind, std::vector<std::string> more) const {
  more.insert(more.begin(), {kind, "-o", "-"});
  const Answer answer = run(more);
  EXPECT_EQ(answer.code, 0) << answer.err;
  return answer.out;
}

}  // namespace backplan::support

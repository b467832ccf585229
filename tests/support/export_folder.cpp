#include "support/export_folder.hpp"

#include <gtest/gtest.h>

#include <set>

#include "support/text.hpp"

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

void expect_sound_ids(const std::string& page) {
  std::set<std::string> ids;
  for (const std::string& id : matches_of(page, " id=\"([^\"]+)\"")) EXPECT_TRUE(ids.insert(id).second) << id;
  EXPECT_FALSE(ids.empty());
  for (const std::string& label : matches_of(page, "aria-labelledby=\"([^\" ]+)"))
    EXPECT_EQ(ids.count(label), 1U) << label;
}

}  // namespace backplan::support

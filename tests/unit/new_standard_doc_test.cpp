// docs/new-standard.md, followed to the letter: its files are written into a user's folder, its commands
// run one after the other.
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

struct Page {
  std::vector<std::pair<std::string, std::string>> files;  // name, text
  std::vector<std::string> commands;
};

// A fenced block under a line "`name`:" is that file; lines of others that begin with "backplan" are
// commands.
Page read_page() {
  std::istringstream text(support::bytes_of(BACKPLAN_SOURCE_DIR "/docs/new-standard.md"));
  Page page;
  std::string name;
  std::string block;
  bool inside = false;
  for (std::string line; std::getline(text, line);) {
    if (line.rfind("```", 0) == 0) {
      if (inside && !name.empty()) page.files.emplace_back(name, block);
      if (inside) name.clear();
      inside = !inside;
      block.clear();
    } else if (inside) {
      block += line + "\n";
      if (name.empty() && line.rfind("backplan ", 0) == 0) page.commands.push_back(line);
    } else if (line.size() > 3 && line.front() == '`' && line.substr(line.size() - 2) == "`:") {
      name = line.substr(1, line.size() - 3);
    }
  }
  return page;
}

std::vector<std::string> words_of(const std::string& command) {
  std::istringstream text(command);
  std::vector<std::string> words;
  std::string word;
  text >> word;  // the program
  while (text >> word) words.push_back(word);
  return words;
}

// Runs in this folder, as a reader does.
class InFolder {
 public:
  explicit InFolder(const std::filesystem::path& folder) : before_(std::filesystem::current_path()) {
    std::filesystem::current_path(folder);
  }
  InFolder(const InFolder&) = delete;
  InFolder& operator=(const InFolder&) = delete;
  ~InFolder() { std::filesystem::current_path(before_); }

 private:
  std::filesystem::path before_;
};

TEST(NewStandardPage, FollowedToTheLetterGivesATestThatEveryCommandKnows) {
  const Page page = read_page();
  ASSERT_EQ(page.files.size(), 2U);
  ASSERT_EQ(page.commands.size(), 8U);
  const test::TemporaryFolder data;
  const test::TemporaryFolder person;
  for (const auto& [name, text] : page.files) data.write("backplan/standards/harbour-crew/" + name, text);
  const InFolder inside(person.path());
  for (const std::string& command : page.commands) {
    const auto answer = support::run_command(words_of(command), {}, data.path().string());
    EXPECT_LE(answer.code, 1) << command << "\n" << answer.err;  // done, or ran well and the answer is no
    EXPECT_TRUE(answer.err.empty()) << command << "\n" << answer.err;
    const bool names_it = support::holds(answer.out, "harbour-crew") ||
                          support::holds(answer.out, "is written") || support::holds(answer.out, "plan.html");
    EXPECT_TRUE(names_it) << command << "\n" << answer.out;
  }
  EXPECT_TRUE(support::holds(person.read("candidate.json"), "\"choose\": ["));
  EXPECT_TRUE(std::filesystem::exists(person.path() / "plan.json"));
}

}  // namespace
}  // namespace backplan

// `backplan standard`: what it lists and prints of the official tests, and what it takes of a user's own
// tables.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "io/json_write.hpp"
#include "support/command.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan::cli {
namespace {

using support::Answer;
using support::holds;
using support::run_command;
using test::TemporaryFolder;

const std::vector<std::string> kShowScale{"standard", "show",     "us-army-aft", "--event",
                                          "2MR",      "--column", "female",      "--json"};

TEST(Standard, ListsShowsAndPrintsAScale) {
  const Answer list = run_command({"standard", "list"});
  EXPECT_EQ(list.code, 0) << list.err;
  EXPECT_TRUE(holds(list.out, "us-army-aft\n"));
  EXPECT_TRUE(holds(run_command({"standard", "show", "us-army-aft"}).out, "Protocol"));
  const Answer scale =
      run_command({"standard", "show", "us-army-aft", "--event", "MDL", "--column", "female"});
  EXPECT_EQ(scale.code, 0) << scale.err;
  EXPECT_TRUE(holds(scale.out, "17-21"));
  EXPECT_EQ(run_command({"standard", "show", "us-army-aft", "--event", "MDX", "--column", "female"}).code, 2);
  EXPECT_EQ(run_command({"standard", "show", "nothing"}).code, 65);
}

TEST(Standard, AnImportOfAnUnsoundTableWritesNothing) {
  const TemporaryFolder folder;
  const std::string table = folder.write("run.csv", "points,17-21\n100,13:00\n99,12:00\n").string();
  const std::vector<std::string> tail{table, "--standard", "us-army-aft", "--event",
                                      "2MR", "--column",   "female"};
  std::vector<std::string> check{"standard", "check"};
  std::vector<std::string> import{"standard", "import"};
  check.insert(check.end(), tail.begin(), tail.end());
  import.insert(import.end(), tail.begin(), tail.end());
  EXPECT_EQ(run_command(check, "", folder.path().string()).code, 1);
  EXPECT_EQ(run_command(import, "", folder.path().string()).code, 65);
  EXPECT_EQ(folder.names(), "run.csv");
}

// The scale that the program prints, taken as if it were the official table: every row becomes official.
TEST(Standard, AnImportedTableTakesThePlaceOfWeakerRows) {
  const TemporaryFolder folder;
  const std::string home = folder.path().string();
  const auto scale = io::Json::parse(run_command(kShowScale).out);
  std::string table = "event,column,age_min,age_max,points,result\n";
  for (const auto& band : scale["scales"]) {
    const std::string name = band["age_band"];
    const std::string least = name.substr(0, 2);
    const std::string most = name.back() == '+' ? "99" : name.substr(3);
    for (const auto& row : band["rows"]) {
      table += fmt::format("2MR,female,{},{},{},{}\n", least, most, row["points"].dump(),
                           row["text"].get<std::string>());
    }
  }
  const std::string file = folder.write("run.csv", table).string();
  const Answer answer = run_command({"standard", "import", file, "--standard", "us-army-aft"}, "", home);
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_TRUE(holds(folder.read("backplan/standards/us-army-aft/2MR-female.cells.csv"), "2MR"));
  const Answer shown = run_command(kShowScale, "", home);
  for (const auto& band : io::Json::parse(shown.out)["scales"]) {
    for (const auto& row : band["rows"]) EXPECT_EQ(row["origin"], "official");
  }
}

// Sound by itself, and yet no part of the standard: `check` judges what `import` would.
TEST(Standard, CheckRefusesATableThatImportRefuses) {
  const TemporaryFolder folder;
  const std::string home = folder.path().string();
  const auto scale = io::Json::parse(run_command(kShowScale).out);
  std::string table = "event,column,age_min,age_max,points,result\n";
  for (const auto& band : scale["scales"]) {
    const std::string name = band["age_band"];
    const std::string most = name.back() == '+' ? "99" : name.substr(3);
    // Every row under the minimum of 60 points.
    table += fmt::format("2MR,female,{},{},0,30:00\n2MR,female,{},{},30,25:00\n", name.substr(0, 2), most,
                         name.substr(0, 2), most);
  }
  const std::string file = folder.write("run.csv", table).string();
  const Answer check = run_command({"standard", "check", file, "--standard", "us-army-aft"}, "", home);
  const Answer import = run_command({"standard", "import", file, "--standard", "us-army-aft"}, "", home);
  EXPECT_EQ(import.code, 65) << import.err;
  EXPECT_EQ(check.code, 1) << check.err;
  EXPECT_EQ(check.err, import.err);
}

TEST(Standard, AFolderOfTheUserIsAStandardWithoutCode) {
  const TemporaryFolder folder;
  folder.write("backplan/standards/mine/standard.json", "{}");
  const Answer answer = run_command({"standard", "show", "mine"}, "", folder.path().string());
  EXPECT_EQ(answer.code, 65);
  EXPECT_TRUE(holds(answer.err, "standards/mine/standard.json:")) << answer.err;
}

}  // namespace
}  // namespace backplan::cli

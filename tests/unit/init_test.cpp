// `backplan init`: questions, options, and the file that comes of them.
#include <gtest/gtest.h>
#include <sys/stat.h>

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

// Answers to every question, in order; each line in turn can be spoilt.
std::vector<std::string> good_answers() {
  return {"",      "2027-03-08",         "A-07", "1998-04-17", "female", "",     "440",
          "",      "2026-11-20",         "",     "190 lb",     "33",     "2:18", "2:45",
          "18:05", "60 60 0 60 60 45 0", ""};
}

std::string lines(const std::vector<std::string>& answers) {
  std::string text;
  for (const std::string& one : answers) text += one + '\n';
  return text;
}

Answer ask(const TemporaryFolder& folder, const std::string& input, std::vector<std::string> more = {}) {
  std::vector<std::string> words{"init", "-C", folder.path().string()};
  words.insert(words.end(), more.begin(), more.end());
  return run_command(words, input);
}

std::vector<std::string> whole_options() {
  return {"--defaults",     "--test-date", "2027-03-08", "--birth-date", "1998-04-17",
          "--column",       "female",      "--target",   "440",          "--result",
          "MDL=190 lb",     "--result",    "2MR=18:05",  "--week",       "60,60,0,60,60,45,0",
          "--results-date", "2026-11-20"};
}

// It refused every result and asked again without an end.
TEST(Init, AsksAgainForADayOfResultsBeforeTheBirthDate) {
  const TemporaryFolder folder;
  std::vector<std::string> answers = good_answers();
  answers.insert(answers.begin() + 8, "1990-11-20");
  const Answer answer = ask(folder, lines(answers));
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_TRUE(holds(answer.err + answer.out, "is not after the birth date")) << answer.err << answer.out;
}

TEST(Init, WritesACandidateThatEveryCommandReads) {
  const TemporaryFolder folder;
  const Answer answer = ask(folder, lines(good_answers()));
  ASSERT_EQ(answer.code, 0) << answer.err;
  EXPECT_TRUE(holds(answer.out, "5 results, test in 14 weeks")) << answer.out;
  EXPECT_EQ(folder.names(), "candidate.json");
  const io::Json made = io::Json::parse(folder.read("candidate.json"));
  EXPECT_EQ(made["target"]["total"], 440);
  EXPECT_EQ(made["results"].size(), 5U);
  EXPECT_EQ(made["week"]["sat"], 45);
  for (const char* command : {"score", "yield", "testday"})
    EXPECT_EQ(run_command({command, "-C", folder.path().string()}).code, 0) << command;
  EXPECT_LE(run_command({"plan", "-C", folder.path().string()}).code, 1);
}

TEST(Init, IsForItsOwnerOnly) {
  const TemporaryFolder folder;
  ASSERT_EQ(ask(folder, lines(good_answers())).code, 0);
  struct stat status {};
  ASSERT_EQ(::stat((folder.path() / "candidate.json").c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777U, 0600U);
}

// A wrong answer is told with what is wrong and asked again; the file is the same as without it.
TEST(Init, ChecksEachAnswerAtOnceAndAsksAgain) {
  const TemporaryFolder clean;
  ASSERT_EQ(ask(clean, lines(good_answers())).code, 0);
  struct Case {
    std::size_t question;
    std::string wrong, told;
  };
  const std::vector<Case> cases{{0, "us-army-atf", "did you mean \"us-army-aft\""},
                                {1, "2027-02-30", "no day of the calendar"},
                                {1, "2025-01-01", "in the past"},
                                {1, "", "an answer is needed"},
                                {3, "2020-01-01", "years old on the day of the test"},
                                {4, "woman", "unknown column"},
                                {5, "elite", "unknown category"},
                                {6, "501", "over 500"},
                                {6, "lots", "no number of points"},
                                {7, "old", "expected one of new, regular, long"},
                                {8, "2026-12-24", "in the future"},
                                {9, "once", "expected one of record"},
                                {10, "9000 lb", "no possible result"},
                                {10, "40 reps", "does not fit MDL"},
                                {14, "18", "may be minutes or seconds"},
                                {15, "60 60", "2 numbers"},
                                {15, "60 60 0 60 60 45 999", "240"},
                                {15, "60 60 0 60 60 x 0", "no number of minutes"},
                                {16, "ill", "expected one of none"}};
  for (const Case& one : cases) {
    const TemporaryFolder folder;
    auto answers = good_answers();
    answers.insert(answers.begin() + static_cast<std::ptrdiff_t>(one.question), one.wrong);
    const Answer answer = ask(folder, lines(answers));
    EXPECT_EQ(answer.code, 0) << one.wrong << '\n' << answer.err;
    EXPECT_TRUE(holds(answer.err, one.told)) << one.wrong << '\n' << answer.err;
    EXPECT_EQ(folder.read("candidate.json"), clean.read("candidate.json")) << one.wrong;
  }
}

TEST(Init, WritesNothingWhereTheAnswersEnd) {
  const auto answers = good_answers();
  for (std::size_t count = 0; count < answers.size(); ++count) {
    const TemporaryFolder folder;
    const Answer answer =
        ask(folder, lines({answers.begin(), answers.begin() + static_cast<std::ptrdiff_t>(count)}));
    EXPECT_EQ(answer.code, 2) << count;
    EXPECT_TRUE(holds(answer.err, "the answers end before")) << answer.err;
    EXPECT_EQ(folder.names(), "");
  }
}

TEST(Init, AsksForAtLeastOneResult) {
  const TemporaryFolder folder;
  auto answers = good_answers();
  answers.insert(answers.begin() + 10, 5, "");
  EXPECT_EQ(ask(folder, lines(answers)).code, 0);
  EXPECT_TRUE(holds(folder.read("candidate.json"), "190 lb"));
}

TEST(Init, AsksNothingThatAnOptionGives) {
  const TemporaryFolder folder;
  auto answers = good_answers();
  answers.erase(answers.begin() + 1);  // the day of the test
  answers.erase(answers.begin() + 9);  // the deadlift
  const Answer answer = ask(folder, lines(answers), {"--test-date", "2027-03-08", "--result", "MDL=86 kg"});
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_FALSE(holds(answer.err, "Day of the test"));
  EXPECT_TRUE(holds(folder.read("candidate.json"), "86 kg"));
}

TEST(Init, AsksNothingAtAllWithDefaults) {
  const TemporaryFolder folder;
  const Answer answer = ask(folder, "", whole_options());
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_EQ(answer.err, "");
  EXPECT_EQ(run_command({"score", "-C", folder.path().string()}).code, 0);
}

TEST(Init, NamesTheOptionThatIsMissingOrWrong) {
  const TemporaryFolder folder;
  const auto told = [&folder](std::vector<std::string> options) {
    const Answer answer = ask(folder, "", std::move(options));
    EXPECT_EQ(answer.code, 2) << answer.err;
    EXPECT_EQ(folder.names(), "");
    return answer.err;
  };
  EXPECT_TRUE(holds(told({"--defaults"}), "--test-date: not given"));
  auto wrong = whole_options();
  wrong[8] = "9000";
  EXPECT_TRUE(holds(told(wrong), "--target: "));
  wrong = whole_options();
  wrong[10] = "XYZ=1";
  EXPECT_TRUE(holds(told(wrong), "--result: \"XYZ=1\" is not EVENT=VALUE"));
  wrong = whole_options();
  wrong[10] = "MDL=40 reps";
  EXPECT_TRUE(holds(told(wrong), "--result MDL: "));
}

TEST(Init, NeverWritesOverACandidate) {
  const TemporaryFolder folder;
  folder.write("candidate.json", "mine");
  const Answer answer = ask(folder, lines(good_answers()));
  EXPECT_EQ(answer.code, 73);
  EXPECT_TRUE(holds(answer.err, "is there already")) << answer.err;
  EXPECT_FALSE(holds(answer.err, "Official test"));  // before anything is asked
  EXPECT_EQ(folder.read("candidate.json"), "mine");
}

TEST(Init, MakesTheFolder) {
  const TemporaryFolder folder;
  const std::string inside = (folder.path() / "squad" / "A-07").string();
  std::vector<std::string> words{"init", "-C", inside};
  for (const std::string& word : whole_options()) words.push_back(word);
  EXPECT_EQ(run_command(words).code, 0);
  EXPECT_FALSE(folder.read("squad/A-07/candidate.json").empty());
}

TEST(Init, AsksWhatAProfileAndABirthNeed) {
  const TemporaryFolder profile;
  auto answers = good_answers();
  answers.back() = "profile";
  answers.emplace_back("2027-01-31");
  EXPECT_EQ(ask(profile, lines(answers)).code, 0);
  EXPECT_EQ(io::Json::parse(profile.read("candidate.json"))["medical"]["until"], "2027-01-31");
  const TemporaryFolder birth;
  answers.back() = "";
  answers[answers.size() - 2] = "postpartum";
  EXPECT_EQ(ask(birth, lines(answers)).code, 0);
  EXPECT_EQ(run_command({"plan", "-C", birth.path().string()}).code, 1);  // declined until cleared
}

TEST(Init, KeepsStrangeNamesAsText) {
  const TemporaryFolder folder;
  auto answers = good_answers();
  answers[2] = "=1+1 \"<b>\" \xd7\x90\xd7\x91 \xf0\x9f\x8f\x83";
  EXPECT_EQ(ask(folder, lines(answers)).code, 0);
  EXPECT_EQ(io::Json::parse(folder.read("candidate.json"))["id"], answers[2]);
}

}  // namespace
}  // namespace backplan::cli

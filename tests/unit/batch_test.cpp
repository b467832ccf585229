#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <sstream>
#include <string>
#include <thread>

#include "cli/line_answers.hpp"
#include "store/failures.hpp"

namespace backplan::cli {
namespace {

std::string echo(const Line& line) {
  return std::to_string(line.number) + ":" + line.text.value_or("too long") + "\n";
}

std::string answers(const std::string& input, LineLimits limits) {
  std::istringstream in(input);
  std::ostringstream out;
  answer_lines(in, out, limits, echo);
  return out.str();
}

TEST(AnswerLines, KeepsTheOrderWhateverTheNumberOfJobs) {
  std::string input;
  for (int i = 0; i < 500; ++i) input += "line " + std::to_string(i) + "\n";
  std::istringstream in(input);
  std::ostringstream out;
  // Early lines take longest, so that an answer that did not wait for its turn would come too soon.
  answer_lines(in, out, {.jobs = 8}, [](const Line& line) {
    if (line.number % 8 == 1) std::this_thread::sleep_for(std::chrono::milliseconds(2));
    return echo(line);
  });
  EXPECT_EQ(out.str(), answers(input, {.jobs = 1}));
  EXPECT_EQ(out.str().substr(0, 20), "1:line 0\n2:line 1\n3:");
}

TEST(AnswerLines, AnswersALineThatIsTooLongAndGoesOn) {
  EXPECT_EQ(answers("12345\n123456\n1\n", {.jobs = 2, .most_bytes = 5}), "1:12345\n2:too long\n3:1\n");
}

TEST(AnswerLines, TakesLineEndsOfBothKindsAndALastLineWithoutOne) {
  EXPECT_EQ(answers("a\r\n\nb", {}), "1:a\n2:\n3:b\n");
  EXPECT_EQ(answers("a\n", {}), "1:a\n");
  EXPECT_EQ(answers("", {}), "");
}

// As standard input that is a folder does.
class Unreadable : public std::streambuf {
 protected:
  int_type underflow() override { throw std::ios_base::failure("error reading the file"); }
};

TEST(AnswerLines, AStreamThatCannotBeReadIsAFailureOfTheDisk) {
  Unreadable buffer;
  std::istream in(&buffer);
  std::ostringstream out;
  EXPECT_THROW(answer_lines(in, out, {.jobs = 2}, echo), store::IoFailure);
}

// A stream that makes its lines as they are read and counts how far the reader has run ahead.
class EndlessLines : public std::streambuf {
 public:
  explicit EndlessLines(int lines) : left_(lines) {}
  [[nodiscard]] int made() const { return made_.load(); }

 protected:
  int_type underflow() override {
    if (left_ == 0) return traits_type::eof();
    --left_;
    ++made_;
    line_ = "x\n";
    setg(line_.data(), line_.data(), line_.data() + line_.size());
    return traits_type::to_int_type(*gptr());
  }

 private:
  int left_;
  std::atomic<int> made_ = 0;
  std::string line_;
};

TEST(AnswerLines, HoldsOnlyAFewLinesOfALongStream) {
  EndlessLines lines(2000);
  std::istream in(&lines);
  std::ostringstream out;
  std::atomic<int> made_meanwhile = 0;
  answer_lines(in, out, {.jobs = 1}, [&](const Line& line) {
    if (line.number == 1) {
      // While the first line is being answered the reader fills the pipeline and has to wait.
      std::this_thread::sleep_for(std::chrono::milliseconds(50));
      made_meanwhile = lines.made();
    }
    return std::string("y\n");
  });
  EXPECT_LE(made_meanwhile, 16);
  EXPECT_EQ(out.str().size(), 4000U);
}

}  // namespace
}  // namespace backplan::cli

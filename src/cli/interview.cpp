#include "cli/interview.hpp"

#include <fmt/format.h>

#include <ostream>

#include "cli/line_answers.hpp"
#include "cli/session.hpp"
#include "report/words.hpp"

namespace backplan::cli {
namespace {

constexpr std::size_t kMostAnswerBytes = 1000;

std::string trimmed(const std::string& text) {
  const char* const blanks = " \t\r";
  const std::size_t from = text.find_first_not_of(blanks);
  return from == std::string::npos ? "" : text.substr(from, text.find_last_not_of(blanks) - from + 1);
}

}  // namespace

void Interview::say(const std::string& text) {
  if (!silent_) streams_.err << text << '\n' << std::flush;
}

std::string Interview::next_answer(const Question& question) {
  streams_.err << question.words;
  if (!question.otherwise.empty()) streams_.err << " [" << report::printable(question.otherwise) << ']';
  streams_.err << ": " << std::flush;
  const auto line = next_line(streams_.in, ++lines_, kMostAnswerBytes);
  if (!line) {
    streams_.err << '\n';
    throw UsageError(fmt::format("the answers end before \"{}\"", question.words),
                     fmt::format("answer it, or give --{}; nothing was written", question.key));
  }
  return trimmed(line->text.value_or(""));
}

void Interview::ask(const Question& question) {
  const auto given = given_.find(question.key);
  if (given != given_.end() || silent_) {
    const std::string answer = given != given_.end() ? given->second : question.otherwise;
    if (answer.empty() && question.may_skip) return;
    const auto objection = answer.empty()
                               ? Objection{"not given", "give it, or leave --defaults out and answer"}
                               : question.take(answer);
    if (objection) throw UsageError(fmt::format("--{}: {}", question.key, objection->what), objection->hint);
    return;
  }
  for (;;) {
    std::string answer = next_answer(question);
    if (answer.empty()) answer = question.otherwise;
    if (answer.empty() && question.may_skip) return;
    const auto objection = answer.empty() ? Objection{"an answer is needed", ""} : question.take(answer);
    if (!objection) return;
    say("  " + objection->what + (objection->hint.empty() ? "" : "; " + objection->hint));
  }
}

}  // namespace backplan::cli

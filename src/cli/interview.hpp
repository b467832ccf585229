// Questions and answers, one a line: on a terminal or from a pipe.
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <string>

#include "cli/environment.hpp"

namespace backplan::cli {

// What is wrong with an answer, and what to do.
struct Objection {
  std::string what;
  std::string hint;
};

struct Question {
  std::string key;        // the option that answers it, without "--"
  std::string words;      // "day of the test, YYYY-MM-DD"
  std::string otherwise;  // what an empty answer means; may be empty
  bool may_skip = false;  // an empty answer is one
  // Takes the answer, or says what is wrong with it and takes nothing.
  std::function<std::optional<Objection>(const std::string&)> take;
};

class Interview {
 public:
  // `given`: answers by key that are not asked. `silent`: nothing is asked at all.
  Interview(Streams streams, std::map<std::string, std::string> given, bool silent)
      : streams_(streams), given_(std::move(given)), silent_(silent) {}

  // Asks until the answer is taken. Throws UsageError for a given answer that will not do, for a missing one
  // where nothing may be asked, and where the input ends.
  void ask(const Question& question);
  void say(const std::string& text);
  [[nodiscard]] bool silent() const { return silent_; }

 private:
  [[nodiscard]] std::string next_answer(const Question& question);

  Streams streams_;
  std::map<std::string, std::string> given_;
  bool silent_;
  std::size_t lines_ = 0;
};

}  // namespace backplan::cli

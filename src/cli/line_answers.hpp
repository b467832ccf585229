// A stream of lines answered by several threads, in the order in which they came.
#pragma once

#include <cstddef>
#include <functional>
#include <iosfwd>
#include <optional>
#include <string>

namespace backplan::cli {

struct Line {
  std::size_t number = 0;           // from 1
  std::optional<std::string> text;  // without its end; none when it is longer than the limit
};

struct LineLimits {
  int jobs = 1;
  std::size_t most_bytes = 1U << 20U;  // of a line; a longer one is skipped to its end
};

// Calls `answer` for each line of `in`, from up to `jobs` threads at once, and writes what it gives
// to `out` in the order of the lines. Holds a few lines for each job, however long the stream is.
// `answer` must not throw. Answers go out as soon as they are due, so that a pipe can wait for them.
void answer_lines(std::istream& in, std::ostream& out, LineLimits limits,
                  const std::function<std::string(const Line&)>& answer);

// The next line; none at the end of the stream. Empty text after the last line end is no line.
[[nodiscard]] std::optional<Line> next_line(std::istream& in, std::size_t number, std::size_t most_bytes);

}  // namespace backplan::cli

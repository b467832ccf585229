// What a command may touch of the world outside: three streams, the variables, today's date. Tests
// hand in their own.
#pragma once

#include <functional>
#include <iosfwd>
#include <map>
#include <string>

#include "backplan/units.hpp"

namespace backplan::cli {

struct Streams {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
};

struct Environment {
  std::map<std::string, std::string> variables;
  Date today;
  std::function<std::string()> new_id = {};  // of an entry; none: from the clock and random numbers
  std::function<double()> seconds = {};      // a clock that only goes on; none: nothing is timed
  bool terminal = false;                     // whether somebody looks at standard error
};

}  // namespace backplan::cli

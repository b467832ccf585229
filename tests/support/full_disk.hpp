// A stream whose disk is full: everything that is written to it fails.
#pragma once

#include <ostream>
#include <streambuf>

namespace backplan::support {

class FullDisk : public std::streambuf {
 protected:
  int_type overflow(int_type) override { return traits_type::eof(); }
};

}  // namespace backplan::support

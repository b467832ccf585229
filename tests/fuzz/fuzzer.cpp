// The entry of libFuzzer; BACKPLAN_FUZZ_READER names the reader that is fed.
#include <cstddef>
#include <cstdint>
#include <string>

#include "fuzz/targets.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes(data, data + size);
  static_cast<void>(backplan::fuzz::feed(BACKPLAN_FUZZ_READER, bytes));
  return 0;
}

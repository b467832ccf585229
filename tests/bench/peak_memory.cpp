#include "bench/peak_memory.hpp"

#include <sys/resource.h>

#include <cerrno>
#include <system_error>

namespace backplan::bench {

double peak_memory_mib() {
  constexpr double kKibInMib = 1024.0;  // ru_maxrss is in KiB on Linux: getrusage(2)
  rusage used{};
  if (getrusage(RUSAGE_SELF, &used) != 0)
    throw std::system_error(errno, std::generic_category(), "getrusage");
  return static_cast<double>(used.ru_maxrss) / kKibInMib;
}

}  // namespace backplan::bench

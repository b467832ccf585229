// The most memory that this process has held.
#pragma once

namespace backplan::bench {

// In MiB, since the process began: it never falls. Throws std::system_error if the system does not say.
[[nodiscard]] double peak_memory_mib();

}  // namespace backplan::bench

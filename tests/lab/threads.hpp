// Jobs that do not know of each other, shared among threads. Each writes to a place of its own, so the answer
// does not depend on their number.
#pragma once

#include <cstddef>
#include <functional>

namespace backplan::lab {

// Throws what the first failing job threw.
void in_threads(int threads, std::size_t jobs, const std::function<void(std::size_t)>& run);

}  // namespace backplan::lab

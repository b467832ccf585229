#include "lab/threads.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace backplan::lab {

void in_threads(int threads, std::size_t jobs, const std::function<void(std::size_t)>& run) {
  std::atomic<std::size_t> next{0};
  std::exception_ptr failure;
  std::mutex guard;
  const auto work = [&] {
    for (std::size_t job = next++; job < jobs; job = next++) {
      try {
        run(job);
      } catch (...) {
        const std::lock_guard<std::mutex> lock(guard);
        if (!failure) failure = std::current_exception();
        next = jobs;
      }
    }
  };
  std::vector<std::thread> others;
  for (int i = 1; i < std::max(1, threads); ++i) others.emplace_back(work);
  work();
  for (std::thread& other : others) other.join();
  if (failure) std::rethrow_exception(failure);
}

}  // namespace backplan::lab

#pragma once

#include <tbb/blocked_range.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <cstddef>
#include <optional>

#if defined(__SANITIZE_THREAD__)
#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>
#endif

/// Loops whose passes may run at once. Each pass writes what no other reads.
namespace windgap {

/// At most so many threads while it lives; 0: all there are.
[[nodiscard]] inline std::optional<tbb::global_control> limited(unsigned threads) {
  std::optional<tbb::global_control> limit;
  if (threads > 0) limit.emplace(tbb::global_control::max_allowed_parallelism, threads);
  return limit;
}

#if defined(__SANITIZE_THREAD__)

/// Calls pass(begin, end) for blocks of `grain` indices or fewer, of 0 to count. By plain threads,
/// as a thread sanitizer cannot look into the library of threads that other builds use.
template <class Pass>
void in_blocks(std::size_t count, std::size_t grain, Pass&& pass) {
  constexpr unsigned workers = 4;
  std::atomic<std::size_t> next = 0;
  std::mutex mutex;
  std::exception_ptr failure;
  const auto work = [&] {
    try {
      for (std::size_t begin = next.fetch_add(grain); begin < count;
           begin = next.fetch_add(grain)) {
        pass(begin, std::min(count, begin + grain));
      }
    } catch (...) {
      const std::scoped_lock lock(mutex);
      failure = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> threads;
    for (unsigned i = 0; i < workers; ++i) threads.emplace_back(work);
  }
  if (failure) std::rethrow_exception(failure);
}

#else

/// Calls pass(begin, end) for blocks of `grain` indices or more, of 0 to count.
template <class Pass>
void in_blocks(std::size_t count, std::size_t grain, Pass&& pass) {
  tbb::parallel_for(tbb::blocked_range<std::size_t>(0, count, grain),
                    [&](const auto& range) { pass(range.begin(), range.end()); });
}

#endif

/// Calls pass(i) for every index of 0 to count.
template <class Pass>
void in_parallel(std::size_t count, Pass&& pass) {
  in_blocks(count, 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) pass(i);
  });
}

}  // namespace windgap

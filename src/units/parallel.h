#pragma once

#include <tbb/blocked_range.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <cstddef>
#include <optional>

#if defined(__SANITIZE_THREAD__)
#include <sanitizer/tsan_interface.h>
#endif

/// Loops whose passes may run at once. Each pass writes what no other reads.
namespace windgap {

/// At most so many threads while it lives; 0: all there are.
[[nodiscard]] inline std::optional<tbb::global_control> limited(unsigned threads) {
  std::optional<tbb::global_control> limit;
  if (threads > 0) limit.emplace(tbb::global_control::max_allowed_parallelism, threads);
  return limit;
}

/// What one thread hands to another by way of the library of threads, which a thread sanitizer
/// cannot look into. Nothing in other builds.
class HandOver {
 public:
  void give() {
#if defined(__SANITIZE_THREAD__)
    __tsan_release(this);
#endif
  }
  void take() {
#if defined(__SANITIZE_THREAD__)
    __tsan_acquire(this);
#endif
  }
};

/// Calls pass(begin, end) for blocks of `grain` indices or more, of 0 to count.
template <class Pass>
void in_blocks(std::size_t count, std::size_t grain, Pass&& pass) {
  HandOver out;
  HandOver back;
  out.give();
  tbb::parallel_for(tbb::blocked_range<std::size_t>(0, count, grain), [&](const auto& range) {
    out.take();
    pass(range.begin(), range.end());
    back.give();
  });
  back.take();
}

/// Calls pass(i) for every index of 0 to count.
template <class Pass>
void in_parallel(std::size_t count, Pass&& pass) {
  in_blocks(count, 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) pass(i);
  });
}

}  // namespace windgap

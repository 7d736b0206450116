#pragma once

#include <cstddef>

namespace windgap::benchmarks {

/// Calls of operator new in this process so far.
[[nodiscard]] std::size_t allocations();

}  // namespace windgap::benchmarks

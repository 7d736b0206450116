#include <cstddef>
#include <cstdint>
#include <string_view>

#include "fuzz/targets.h"

/// One program a target: compiled with WINDGAP_FUZZ_TARGET naming it.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  windgap::fuzz::WINDGAP_FUZZ_TARGET({reinterpret_cast<const char*>(data), size});
  return 0;
}

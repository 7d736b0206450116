#pragma once

#include <span>
#include <string_view>

namespace windgap::report {

/// One thing that hurts people or engines, in a few words for a screen and in full for paper.
struct Caution {
  std::string_view key;
  std::string_view brief;
  std::string_view full;
};

/// What holds on every bench, the gravest first.
[[nodiscard]] std::span<const Caution> cautions();

}  // namespace windgap::report

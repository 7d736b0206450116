#pragma once

#include <string>

#include "report/shown.h"

namespace windgap::report {

/// A text cut to a width on the screen, an ellipsis in the place of the rest.
[[nodiscard]] inline std::string shortened(const std::string& text, std::size_t width) {
  if (width_of(text) <= width) return text;
  std::string kept;
  std::size_t taken = 0;
  for (const char c : text) {
    const bool begins = (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    if (begins && ++taken >= width) break;
    kept += c;
  }
  return kept + "…";
}

}  // namespace windgap::report

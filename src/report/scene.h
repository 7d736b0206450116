#pragma once

#include <string>
#include <vector>

#include "report/outcome.h"

namespace windgap::report {

/// The bench from the side, to scale: fan, bracket, jet, gap, mouth, throat and inducer at the
/// shown distance, with the slot and the distances to measure.
struct SideView {
  std::string svg;
  std::vector<std::string> numbered;  ///< what the numbers in the picture stand for, from 1
  std::vector<std::string> remarks;   ///< what the picture only indicates
};

[[nodiscard]] SideView side_view(const Outcome& outcome);

/// A wall tap in the inlet's throat and the U-tube on it; not to scale.
[[nodiscard]] std::string tap_view();

}  // namespace windgap::report

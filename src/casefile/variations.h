#pragma once

#include <vector>

#include "casefile/case.h"
#include "cooling/sensitivity.h"
#include "placement/first_order.h"

namespace windgap::casefile {

/// Everything about a case that has a spread: coefficients of the rig's models, and numbers given
/// or assumed with a tolerance, which counts as the half width of a uniform distribution.
[[nodiscard]] std::vector<placement::Variation> variations(const Case& bench);

/// Coefficients of the cooling models and of the materials that have a spread.
[[nodiscard]] std::vector<cooling::Variation> cooling_variations(const Case& bench);

}  // namespace windgap::casefile

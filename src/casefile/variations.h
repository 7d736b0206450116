#pragma once

#include <vector>

#include "casefile/case.h"
#include "placement/first_order.h"

namespace windgap::casefile {

/// Everything about a case that has a spread: coefficients of the rig's models, and numbers given
/// or assumed with a tolerance, which counts as the half width of a uniform distribution.
[[nodiscard]] std::vector<placement::Variation> variations(const Case& bench);

/// Moves a coefficient up by one standard deviation; a table's ordinates by a share.
void move_up(double& value, const Spread& spread);
void move_up(Table& table, const Spread& spread);

}  // namespace windgap::casefile

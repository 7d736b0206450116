#pragma once

#include <span>
#include <vector>

namespace windgap::placement {

/// The value that members holding `share` of the weight reach or exceed: linear between the
/// members' mid-weights, so it moves smoothly with every value (models/placement.md, Eq. 2).
/// `order` is scratch of the same length. Weights not negative, not all zero; 0 <= share <= 1.
[[nodiscard]] double reached_by(std::span<const double> values,
                                std::span<const double> weights,
                                double share,
                                std::vector<std::size_t>& order);

}  // namespace windgap::placement

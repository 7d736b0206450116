#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace windgap::placement {

/// A member that counts, on its way to its place in the order.
struct Ranked {
  double value;
  double weight;
  std::size_t member;
};

/// The value that members holding `share` of the weight reach or exceed: linear between the
/// members' mid-weights, so it moves smoothly with every value (models/placement.md, Eq. 2).
/// `scratch` keeps its room from call to call; only what stands near the share is sorted. Weights
/// not negative, not all zero; 0 <= share <= 1.
[[nodiscard]] double reached_by(std::span<const double> values,
                                std::span<const double> weights,
                                double share,
                                std::vector<Ranked>& scratch);

}  // namespace windgap::placement

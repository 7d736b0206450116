#pragma once

#include <limits>
#include <string>
#include <vector>

namespace windgap {

/// A field nobody has filled yet. Forgetting one shows up as a NaN in the first test that uses it.
inline constexpr double unset = std::numeric_limits<double>::quiet_NaN();

/// A handbook table y(x): strictly rising x, one y for each. Units are those of its YAML entry.
struct Table {
  std::vector<double> x;
  std::vector<double> y;
};

/// Monotone cubic interpolation of the table (no overshoot between points), held constant beyond
/// its ends. Tables are read once for each rig, never inside a solve.
/// @throws std::logic_error if the table has fewer than two points or x does not rise.
[[nodiscard]] double interpolate(const Table& table, double x);

}  // namespace windgap

#pragma once

/// How a value may differ from the one the models or the case state (models/spread.md, Eqs. 1, 2).
namespace windgap::spread {

enum class Distribution { none, normal, lognormal, uniform };

/// From bench to bench, fixed once built; or from one attempt to the next on one bench.
enum class Varies { bench, start };

struct Shape {
  Distribution distribution = Distribution::none;
  double width = 0.0;  ///< standard deviation; lognormal: of the logarithm; uniform: half width
};

/// The value at a standard normal `z`. Beyond `farthest_normal` deviations it stays where it is
/// there: no draw leaves what the models mean.
[[nodiscard]] double moved(double value, const Shape& shape, double z);
inline constexpr double farthest_normal = 3.0;

/// Standard normal distribution function, and its inverse for 0 < share < 1.
[[nodiscard]] double normal_share(double z);
[[nodiscard]] double normal_quantile(double share);
/// Logarithm of `normal_share`, also where that is too small to hold.
[[nodiscard]] double log_normal_share(double z);

}  // namespace windgap::spread

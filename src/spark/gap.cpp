#include "spark/gap.h"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <stdexcept>

namespace windgap::spark {
namespace {

void require(bool holds, const char* message) {
  if (!holds) throw std::logic_error(message);
}

/// Eq. 2, `path` = relative density times gap [m].
double uniform_field(double path, const GapCoefficients& c) {
  return c.uniform_field * path + c.uniform_root * std::sqrt(path);
}

/// Eq. 3, `product` = pressure times gap at the reference temperature [Pa m]; flat left of its own
/// minimum, where the form rises again faster than any plug does.
double paschen(double product, const GapCoefficients& c) {
  const double losses = std::log(c.paschen_a / std::log(1.0 + 1.0 / c.paschen_gamma));
  const double right = std::max(product, std::exp(1.0 - losses));
  return c.paschen_b * right / (losses + std::log(right));
}

/// Eq. 4: one curve from the minimum upward. Paschen's branch is scaled to meet the uniform-field
/// form at the join, so that drawn coefficients leave no step there.
double smooth_electrodes(double path, const GapCoefficients& c) {
  const double product = path * c.reference_pressure;
  if (product >= c.paschen_join) return uniform_field(path, c);
  if (product <= c.minimum_product) return c.minimum_voltage;
  const double meet =
      uniform_field(c.paschen_join / c.reference_pressure, c) / paschen(c.paschen_join, c);
  return std::max(c.minimum_voltage, meet * paschen(product, c));
}

/// Eq. 5.
double shape(Electrodes electrodes, double path, const GapCoefficients& c) {
  switch (electrodes) {
    case Electrodes::uniform:
      return 1.0;
    case Electrodes::plug_edged:
      return c.shape_edged;
    case Electrodes::plug_worn:
      return c.shape_worn;
    case Electrodes::points:
      return c.shape_points + (1.0 - c.shape_points) * std::exp(-path / c.points_length);
  }
  throw std::logic_error("unknown electrodes");
}

double voltage_over(double path, Electrodes electrodes, const GapCoefficients& c) {
  return std::max(c.minimum_voltage, shape(electrodes, path, c) * smooth_electrodes(path, c));
}

}  // namespace

double relative_density(const Gas& gas, const GapCoefficients& c) {
  require(gas.pressure > 0.0 && gas.temperature > 0.0,
          "the gas at the plug needs a pressure and a temperature above zero");
  return gas.pressure / c.reference_pressure * (c.reference_temperature / gas.temperature);
}

Breakdown breakdown(const Gap& gap, const Gas& gas, const GapCoefficients& c) {
  require(gap.length > 0.0, "a spark gap has a length above zero");
  const double density = relative_density(gas, c);
  const double path = density * gap.length;
  const bool inside = path * c.reference_pressure >= c.minimum_product && path <= c.longest_gap &&
                      density >= c.lowest_density && density <= c.highest_density;
  return {.voltage = voltage_over(path, gap.electrodes, c),
          .validity = inside ? Validity::inside : Validity::extrapolated};
}

CheckedGap checked_gap(const Gas& gas, const GapCoefficients& c) {
  const double density = relative_density(gas, c);
  return {.density = density,
          .shortest = c.minimum_product / c.reference_pressure / density,
          .longest = c.longest_gap / density};
}

double longest_gap(double voltage,
                   Electrodes electrodes,
                   const Gas& gas,
                   const GapCoefficients& c) {
  require(voltage > 0.0 && std::isfinite(voltage), "a voltage above zero is needed");
  const double density = relative_density(gas, c);
  // One step above the voltage, so that the far end of a flat piece is found and not its middle.
  const double above = std::nextafter(voltage, std::numeric_limits<double>::infinity());
  const auto excess = [&](double path) { return voltage_over(path, electrodes, c) - above; };
  double low = c.minimum_product / c.reference_pressure;
  if (excess(low) > 0.0) return 0.0;
  double high = 2.0 * low;
  while (excess(high) <= 0.0) {
    low = high;
    high *= 2.0;
  }
  std::uintmax_t evaluations = 100;
  const auto bracket = boost::math::tools::toms748_solve(
      excess, low, high, boost::math::tools::eps_tolerance<double>(40), evaluations);
  return bracket.first / density;
}

}  // namespace windgap::spark

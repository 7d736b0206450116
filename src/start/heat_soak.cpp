#include "start/heat_soak.h"

#include <cmath>
#include <numbers>

namespace windgap::start {

WallSide make_side(const Duct& duct, const Stanton& stanton) {
  const double diameter = std::sqrt(4.0 * duct.flow_area / std::numbers::pi);
  const double reynolds_per_flow = diameter / (duct.flow_area * duct.viscosity);
  return {.transfer_scale = duct.enhancement * stanton.factor * duct.wetted_area / duct.flow_area *
                            std::pow(stanton.prandtl, -stanton.prandtl_exponent) *
                            std::pow(reynolds_per_flow, -stanton.reynolds_exponent),
          .exponent = -stanton.reynolds_exponent};
}

double transfer_units(const WallSide& side, double mass_flow) noexcept {
  return side.transfer_scale * std::exp(side.exponent * std::log(mass_flow));
}

// NOLINTNEXTLINE(bugprone-easily-swappable-parameters): along the stream
double behind_wall(double gas, double wall, double units) noexcept {
  return wall + (gas - wall) * std::exp(-units);
}

// NOLINTNEXTLINE(bugprone-easily-swappable-parameters): along the stream
double ahead_of_wall(double behind, double wall, double units) noexcept {
  return wall + (behind - wall) * std::exp(units);
}

}  // namespace windgap::start

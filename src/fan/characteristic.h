#pragma once

#include <array>
#include <cstddef>

#include "units/table.h"

/// The shape of the fan's pressure-flow and torque-flow curves. Flow, pressure and torque are over
/// those of the static point at the same speed and density, so all three are 1 there.
/// Equations: models/fan.md.
namespace windgap::fan {

/// An Euler line times an efficiency parabola, or a monotone cubic through measured points.
/// Below the stall flow both curves run level to zero flow (Eq. 9): order of magnitude only.
struct Characteristic {
  static constexpr std::size_t fewest_points = 4;
  static constexpr std::size_t most_points = 24;
  double work_slope = unset;  ///< -d(work)/d(flow) at the static point [-]
  double curvature = unset;   ///< loss of efficiency per squared departure of flow [-]
  double stall_flow = unset;  ///< [-]
  std::size_t count = 0;      ///< measured points; 0: generic
  std::array<double, most_points> flow{};
  std::array<double, most_points> pressure{};
  std::array<double, most_points> slope{};
};

struct CharacteristicPoint {
  double value = unset;
  double slope = unset;  ///< d(value)/d(flow)
};

/// Pressure rise at a flow >= 0 (Eqs. 6, 7, 9).
[[nodiscard]] CharacteristicPoint pressure_at(const Characteristic& curve, double flow);

/// Torque at a flow >= 0 (Eqs. 8, 9).
[[nodiscard]] double torque_at(const Characteristic& curve, double flow);

/// Flow >= 0 at which the pressure rise is `resistance` times the squared flow (Eq. 10): a
/// safeguarded Newton root. resistance > 0.
[[nodiscard]] double balance(const Characteristic& curve, double resistance);

/// Slopes and stall flow of a curve whose points (or work slope and curvature) are set. Generic:
/// the stall flow given, or the flow of greatest pressure above it. Measured: the first maximum met
/// from the high-flow end, or the least flow measured.
void complete(Characteristic& curve, double stall_flow);

}  // namespace windgap::fan

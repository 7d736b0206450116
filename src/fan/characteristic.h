#pragma once

#include <array>
#include <cstddef>

#include "units/table.h"

/// The fan's pressure-flow and torque-flow shape. Equations: models/fan.md.
namespace windgap::fan {

/// Relative pressure against relative flow, both 1 at the static point: an Euler line times an
/// efficiency parabola, or a monotone cubic through measured points.
struct Characteristic {
  static constexpr std::size_t most_points = 24;
  double work_slope = unset;  ///< -d(work)/d(flow) at the static point, relative [-]
  double curvature = unset;   ///< of the efficiency [-]
  double stall_flow = unset;  ///< [-]
  std::size_t count = 0;      ///< measured points; 0: generic
  std::array<double, most_points> flow{};
  std::array<double, most_points> pressure{};
  std::array<double, most_points> slope{};
};

/// Relative pressure rise [-] and its slope at a relative flow (Eqs. 7, 8).
struct PressurePoint {
  double pressure = unset;
  double slope = unset;
};
[[nodiscard]] PressurePoint pressure_at(const Characteristic& curve, double relative_flow);

/// Relative torque [-] at a relative flow (Eq. 9).
[[nodiscard]] double torque_at(const Characteristic& curve, double relative_flow);

}  // namespace windgap::fan

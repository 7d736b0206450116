#pragma once

#include "units/table.h"

/// Bounds and scaling every fan obeys. Equations: models/fan.md.
namespace windgap::fan {

/// Most thrust [N] momentum theory allows for a shaft power: T^3 = 4 sigma rho A P^2 (Eq. 12).
struct IdealDuct {
  double density = unset;          ///< [kg/m^3]
  double disc_area = unset;        ///< [m^2]
  double exit_area_ratio = unset;  ///< exit over disc; 1/2 is the open rotor [-]
};
[[nodiscard]] double ideal_thrust(const IdealDuct& duct, double shaft_power);

/// A fan's point carried to another speed and density by the affinity laws (Eq. 13).
struct AffinityPoint {
  double flow = unset;           ///< [m^3/s]
  double pressure_rise = unset;  ///< [Pa]
  double shaft_power = unset;    ///< [W]
};
[[nodiscard]] AffinityPoint scale(const AffinityPoint& point,
                                  double speed_ratio,
                                  double density_ratio = 1.0);

}  // namespace windgap::fan

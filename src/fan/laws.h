#pragma once

#include "units/table.h"

/// Bounds and scaling that every fan obeys. Equations: models/fan.md.
namespace windgap::fan {

/// A fan in a duct, as momentum theory sees it.
struct IdealDuct {
  double density = unset;          ///< [kg/m^3]
  double disc_area = unset;        ///< [m^2]
  double exit_area_ratio = unset;  ///< exit over disc; 1/2 is the open rotor [-]
};

/// Most static thrust [N] for a shaft power: T^3 = 4 sigma rho A P^2 (Eq. 14).
[[nodiscard]] double ideal_thrust(const IdealDuct& duct, double shaft_power);

/// A point of a fan at one speed and density.
struct AffinityPoint {
  double flow = unset;           ///< [m^3/s]
  double pressure_rise = unset;  ///< [Pa]
  double shaft_power = unset;    ///< [W]
};

/// The same point at another speed and density (Eq. 15).
[[nodiscard]] AffinityPoint scale(const AffinityPoint& point,
                                  double speed_ratio,
                                  double density_ratio = 1.0);

}  // namespace windgap::fan

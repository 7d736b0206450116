#pragma once

#include "fan/fan.h"

/// The static point that a fan is anchored on. Internal to this folder.
namespace windgap::fan {

/// Area that the stream fills at the fan's own exit [m^2] (Eq. 1).
[[nodiscard]] double stream_area(const Fan& fan, const Coefficients& c);

/// Squared radius at which the blades' mean work is reckoned [m^2]: half the sum of the squared
/// bore and hub radii.
[[nodiscard]] double mean_square_radius(const Fan& fan);

/// Thrust that is believed, and the air it was made in.
struct Believed {
  double thrust = unset;     ///< measured, or the datasheet's times its factor [N]
  double density = unset;    ///< [kg/m^3]
  double velocity = unset;   ///< sqrt(T/(rho A)) [m/s] (Eq. 2)
  double mass_flow = unset;  ///< [kg/s]
};
[[nodiscard]] Believed believed_thrust(const Fan& fan, const Coefficients& c);

/// Current of a static point, from its power if need be [A]; NaN if neither is known.
[[nodiscard]] double current_of(const StaticPoint& point);

/// Shaft side of the static point (Eq. 3).
struct Shaft {
  double speed = unset;             ///< [rad/s]
  double load_coefficient = unset;  ///< torque over squared speed [N m s^2]
  double density = unset;           ///< of the air it was measured in [kg/m^3]
};
/// Shaft of the point whose current is known: the measured one if it is complete, else the
/// datasheet's.
[[nodiscard]] Shaft loaded_shaft(const Fan& fan, const drive::Drive& drive, const Coefficients& c);

/// Shaft speed at the believed point's voltage [rad/s]: the same wheel on the same motor.
[[nodiscard]] double believed_speed(const Fan& fan,
                                    const drive::Drive& drive,
                                    const Shaft& shaft,
                                    const Coefficients& c);

}  // namespace windgap::fan

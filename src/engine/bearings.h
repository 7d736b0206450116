#pragma once

#include "engine/coefficients.h"
#include "engine/parts.h"

/// Drag of the bearings. Equations and sources: models/bearings.md.
namespace windgap::engine {

/// Petroff's torque of one unloaded journal film.
struct Film {
  double radius = unset;     ///< of the journal [m]
  double length = unset;     ///< [m]
  double clearance = unset;  ///< radial [m]
};

/// Torque of one film at a viscosity and relative speed [N m]: 2 pi mu omega r^3 l/c (Eq. 1).
[[nodiscard]] double petroff_torque(const Film& film, double viscosity, double speed);

/// Dynamic viscosity of the oil [Pa s] (Eqs. 4, 5), straight in the double logarithm of ASTM D341.
[[nodiscard]] double oil_viscosity(const Oil& oil,
                                   const BearingCoefficients& c,
                                   double temperature);

/// Speed of a floating ring over the shaft's, both films at one viscosity [-] (Eq. 2).
[[nodiscard]] double ring_speed_ratio(const Bearings& bearings, const BearingCoefficients& c);

/// Palmgren's moment of one ball bearing [N m] (Eqs. 7, 8).
struct BallBearing {
  double mean_diameter = unset;        ///< [m]
  double load = unset;                 ///< [N]
  double kinematic_viscosity = unset;  ///< [m^2/s]
};
[[nodiscard]] double ball_torque(const BallBearing& bearing,
                                 const BearingCoefficients& c,
                                 double speed);

/// Drag of all bearings together with every film at one temperature [N m] (Eqs. 1 to 3 or 7, 8).
[[nodiscard]] double drag_at_film_temperature(const Bearings& bearings,
                                              const BearingCoefficients& c,
                                              double speed,
                                              double film_temperature);

/// Steady films: drag and mean film temperature that agree (Eq. 6).
struct SteadyDrag {
  double torque = unset;            ///< [N m]
  double film_temperature = unset;  ///< [K]
};
[[nodiscard]] SteadyDrag steady_drag(const Bearings& bearings,
                                     const BearingCoefficients& c,
                                     double speed);

/// Torque that starts the rotor from rest [N m] (Eq. 9).
struct Resting {
  double rotor_mass = unset;        ///< [kg]
  double exducer_diameter = unset;  ///< of the compressor [m]
  double gravity = unset;           ///< [m/s^2]
};
[[nodiscard]] double breakaway_torque(const Bearings& bearings,
                                      const BearingCoefficients& c,
                                      const Resting& resting);

}  // namespace windgap::engine

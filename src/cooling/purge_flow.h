#pragma once

#include <array>
#include <cstddef>

#include "drive/drive.h"
#include "rig/rig.h"
#include "units/table.h"

/// The air that this fan at this mount really drives through a hot engine. Hot walls warm the air,
/// warm air chokes the passages and drives the turbine: flow and rotor speed are solved anew for
/// each temperature the air may reach, once, before the cooling is followed in time.
/// Numbers in the comments are the equations of models/cooling.md.
namespace windgap::cooling {

/// What the purge does at one temperature of the air ahead of the turbine.
struct PurgePoint {
  double airflow = unset;       ///< [kg/s]
  double rotor_speed = unset;   ///< [rad/s]
  double pack_current = unset;  ///< [A]; 0 for a given stream
};

/// The same tabulated over that temperature, on even steps of its logarithm.
struct PurgeFlow {
  static constexpr std::size_t points = 9;
  double stand_off = unset;  ///< [m]
  double throttle = unset;   ///< [-]
  double coldest = unset;    ///< the room's temperature [K]
  double hottest = unset;    ///< [K]
  std::array<double, points> airflow{};
  std::array<double, points> rotor_speed{};
  std::array<double, points> pack_current{};
  double stray_speed = 0.0;     ///< of the air that is not swallowed, at the mouth [m/s]
  double hardest_use = 0.0;     ///< largest current over its continuous limit [-]
  drive::Running drive{};       ///< cold: what heats the motor
  double self_driving = unset;  ///< from here hot air would carry the rotor away: level [K]
  bool converged = false;       ///< the cold root was found
  [[nodiscard]] bool flows() const { return airflow.front() > 0.0; }
};

/// Tabulates from the room's temperature up to `hottest` [K] (Eq. 10).
/// @throws std::logic_error if `hottest` is not above the room's temperature.
[[nodiscard]] PurgeFlow tabulate_purge(const rig::Rig& rig, double stand_off, double hottest);

/// A purge of the same flow at any temperature, with neither rotor nor pack: a blower of known
/// flow.
struct Blower {
  double airflow = unset;  ///< [kg/s]
  double coldest = unset;  ///< the room's temperature [K]
  double hottest = unset;  ///< [K]
};
[[nodiscard]] PurgeFlow steady_purge(const Blower& blower);

/// Reads the table: cubic pieces with matched slopes, level beyond its ends. No allocation.
[[nodiscard]] PurgePoint purge_at(const PurgeFlow& flow, double temperature) noexcept;

/// Its airflow alone [kg/s].
[[nodiscard]] double purge_airflow(const PurgeFlow& flow, double temperature) noexcept;

}  // namespace windgap::cooling

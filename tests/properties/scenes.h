#pragma once

#include <rapidcheck.h>

#include <iosfwd>

#include "rig/rig.h"

/// Benches drawn at random from the box of what a case may say, for tests of laws that hold on all
/// of them.
namespace windgap::test {

/// The numbers a bench of the box is made from.
struct Scene {
  double inducer_diameter = unset;  ///< 34 to 120 mm [m]
  double bore_share = unset;        ///< fan bore over inducer, 0.6 to 2.5 [-]
  double exit_velocity = unset;     ///< full throttle, in the open, 15 to 110 [m/s]
  double hub_share = unset;         ///< fan hub over bore, 0.2 to 0.6 [-]
  double throttle = unset;          ///< 0.1 to 1 [-]
  double offset_share = unset;      ///< offset over bore, 0 to 0.5 [-]
  double tilt = unset;              ///< 0 to 0.17 [rad]
  double altitude = unset;          ///< 0 to 4000 m [m]
  double temperature = unset;       ///< -20 to 45 degC [K]
  double oil_temperature = unset;   ///< -10 to 80 degC [K]
  double stand_off_share = unset;   ///< stand-off over bore, 0.05 to 40 [-]
  bool blunt_hub = false;
  bool vanes = false;
};
std::ostream& operator<<(std::ostream& out, const Scene& scene);

/// Any scene of the box.
[[nodiscard]] rc::Gen<Scene> any_scene();

/// The bench, fallbacks filled: a fan on a drive of its size, or a stream that holds its flow.
[[nodiscard]] rig::Parts fan_parts(const Scene& scene);
[[nodiscard]] rig::Parts stream_parts(const Scene& scene);

/// [m]
[[nodiscard]] double stand_off(const Scene& scene);

}  // namespace windgap::test

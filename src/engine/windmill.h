#pragma once

#include "air/air.h"
#include "engine/engine.h"

/// The engine alone, fed with a known total pressure: flow at a speed, and the speed at which the
/// rotor settles. For calibration and tables; the rig has its own faster roots.
namespace windgap::engine {

/// What stands ahead of the inducer.
struct Supply {
  double total_pressure = unset;           ///< absolute [Pa]
  double total_temperature = unset;        ///< [K]
  double swirl = 0.0;                      ///< as Flow::inlet_swirl [m^2/s]
  double turbine_inlet_temperature = 0.0;  ///< as Flow's [K]
  double fuel_air_ratio = 0.0;             ///< as Flow's [-]
};

enum class Settling {
  turning,    ///< the rotor settles at `speed`
  at_rest,    ///< torque at rest below breakaway: speed 0
  runs_away,  ///< still accelerating at the end of the searched speeds: `speed` is that end
  no_flow     ///< the supply pushes nothing through: all zero
};

struct Windmill {
  Settling settling = Settling::no_flow;
  double mass_flow = 0.0;  ///< [kg/s]
  double speed = 0.0;      ///< [rad/s]
  GasPath path;
};

/// Mass flow [kg/s] at a fixed speed: the first + to - crossing from zero (0 without supply).
[[nodiscard]] double flow_at_speed(const Prepared& engine,
                                   const air::Ambient& ambient,
                                   const Supply& supply,
                                   double speed);

/// First speed from rest where the net torque turns from + to -.
[[nodiscard]] Windmill windmill(const Prepared& engine,
                                const air::Ambient& ambient,
                                const Supply& supply);

}  // namespace windgap::engine

#pragma once

#include "rig/rig.h"
#include "start/burner.h"
#include "start/heat_soak.h"
#include "start/radiation.h"
#include "start/setup.h"

namespace windgap::start {

/// One fuel, ready for solves.
struct FuelLine {
  Mixture mixture;
  Metering metering = Metering::controlled;
  double flow = unset;        ///< [kg/s]
  double final_flow = unset;  ///< [kg/s]
  double ramp_time = unset;   ///< [s]
  double least_flow = unset;
  double greatest_flow = unset;
};

/// A setup boiled down to numbers; copying it allocates nothing.
struct Prepared {
  Burner burner;
  FuelLine main;
  FuelLine preheat;
  bool preheats = false;
  double changeover_temperature = unset;  ///< of the vaporizer tubes [K]
  double changeover_time = unset;         ///< [s]
  Glow glow;                              ///< of the flame
  double flame_area = unset;              ///< of the flame tube's wall that sees the flame [m^2]
  bool vaporizes = false;                 ///< a liquid without a nozzle, in tubes in the flame
  double vaporizer_area = unset;          ///< outside of all tubes [m^2]
  double vaporizer_crossflow = unset;     ///< heat transfer over flow^exponent, all tubes [W/K]
  double crossflow_exponent = unset;      ///< of the mass flow [-]
  WallSide vaporizer_inside;              ///< of all tubes, over the engine's airflow
  double vaporizer_air_share = unset;     ///< [-]
  double vaporizer_heat = unset;          ///< that a kg of liquid takes up [J/kg]
  double vaporizer_capacity = unset;      ///< [J/K]
  WallSide tube_inside;
  WallSide tube_outside;
  WallSide housing;
  double tube_capacity = unset;        ///< [J/K]
  double housing_capacity = unset;     ///< [J/K]
  double room_conductance = unset;     ///< housing to room [W/K]
  double film_capacity = unset;        ///< [J/K]
  double oil_conductance = unset;      ///< film to oil stream [W/K]
  double oil_temperature = unset;      ///< at the inlet [K]
  double limit = unset;                ///< gas temperature behind the burner [K]
  double control_temperature = unset;  ///< that controlled fuel holds [K]
  double usual_wall = unset;           ///< housing temperature of the algebraic criterion [K]
  double speed_margin = unset;
  double blown_beyond_idle = unset;
  Starter starter = Starter::fan;
  ShaftMotor shaft_motor;
  FanPlan fan;
  bool lights = true;       ///< the igniter's part
  double spark_wait = 0.0;  ///< at most, for its next spark [s]
  Sequence sequence;
  double settled_rate = unset;  ///< [1/s]
  double hang_rate = unset;     ///< [rad/s^2]
  double hang_time = unset;     ///< [s]
};

/// @throws std::logic_error if a field needed here is unset or out of sense (fill_fallbacks first),
/// or if a measured resistance stands for the engine.
[[nodiscard]] Prepared prepare(const Setup& setup,
                               const rig::Parts& parts,
                               const rig::Coefficients& models,
                               const FuelCoefficients& fuels,
                               const Coefficients& c);

}  // namespace windgap::start

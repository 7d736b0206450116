#pragma once

#include <string>
#include <vector>

#include "rig/parts.h"
#include "start/coefficients.h"
#include "start/fuel.h"
#include "units/assumed.h"

/// What a person does to start the engine: fuel, burner, hot walls, fan throttle, order of things.
/// A field left `unset` is filled by `fill_fallbacks` unless its comment says otherwise. Meaning:
/// models/start.md.
namespace windgap::start {

/// How the fuel flow is decided.
enum class Metering {
  controlled,  ///< as much as keeps the gas `control_margin` below its limit
  fixed,       ///< one valve position
  ramp         ///< from `flow` to `final_flow` in `ramp_time` after light-off
};

/// One fuel and its way into the burner.
struct FuelSupply {
  FuelKind kind = FuelKind::propane;
  Metering metering = Metering::controlled;
  double flow = unset;           ///< fixed or at light-off [kg/s]; not filled
  double final_flow = unset;     ///< of a ramp [kg/s]; not filled
  double ramp_time = unset;      ///< [s]; not filled
  double least_flow = unset;     ///< least that valve, pump or nozzle gives steadily [kg/s]
  double greatest_flow = unset;  ///< [kg/s]
  double nozzle_flow = unset;    ///< of a spray nozzle at its rated pressure [kg/s]; unset: none
  double nozzle_rated_pressure = unset;  ///< over the burner's [Pa]; read with a nozzle
  double nozzle_least_pressure = unset;  ///< that still sprays [Pa]; the same
};

/// Gas first, the main fuel once the flame tube is hot.
struct Preheat {
  FuelSupply gas = {};
  double tube_temperature = unset;  ///< at which the changeover begins [K]
  double changeover_time = unset;   ///< [s]
};

struct BurnerDetail {
  double primary_hole_area = unset;      ///< of the flame tube's first rows [m^2]; not filled
  double hole_area = unset;              ///< of all its holes [m^2]; not filled
  double primary_share = unset;          ///< of the air into the primary zone [-]
  double tube_mass = unset;              ///< of the flame tube [kg]
  double flame_holder_velocity = unset;  ///< above which it does not light [m/s]; needed
};

struct Housing {
  double mass = unset;         ///< of the turbine housing [kg]
  double wetted_area = unset;  ///< touched by gas [m^2]
};

/// When the fan is switched off.
enum class FanOff {
  automatic,   ///< at (1 + speed margin) times self-sustaining speed
  at_speed,    ///< at `off_speed`
  after_light  ///< `off_delay` after light-off
};

struct FanPlan {
  double light_throttle = unset;  ///< until light-off [-]
  double ramp_time = unset;       ///< from there to the rig's throttle [s]
  double spool_time = unset;      ///< throttle from 0 to full, and back [s]
  FanOff off = FanOff::automatic;
  double off_speed = unset;  ///< of the rotor [rad/s]; not filled
  double off_delay = unset;  ///< [s]; not filled
};

/// What turns the rotor.
enum class Starter {
  fan,         ///< the rig's fan or stream
  shaft_motor  ///< a motor on the shaft through a clutch that lets go; no fan at all
};

/// Torque falls in a straight line from stall to free speed.
struct ShaftMotor {
  double stall_torque = unset;   ///< at the rotor [N m]
  double free_speed = unset;     ///< of the rotor [rad/s]
  double cut_out_speed = unset;  ///< at which the clutch lets go [rad/s]; unset: at free speed
};

/// Whether the igniter does its part: another model's word on it, taken as given.
struct Ignition {
  bool lights = true;
  double wait = 0.0;         ///< at most, for its next spark [s]
  std::string why_not = {};  ///< one sentence, where it does not or comes too late
};

struct Sequence {
  Purge purge;                    ///< before ignition
  double ignition_delay = unset;  ///< [s]
  double patience = unset;        ///< fuel without flame [s]
  double spin_up_time = unset;    ///< light-off to fan off that a start may take [s]
  double time_limit = unset;      ///< of the attempt [s]
  double idle_speed = unset;      ///< [rad/s]
};

struct Setup {
  FuelSupply fuel = {};
  std::vector<Preheat> preheat = {};  ///< none or one
  BurnerDetail burner = {};
  Housing housing = {};
  double gas_temperature_limit = unset;  ///< behind the burner [K]
  double speed_margin = unset;           ///< over self-sustaining speed [-]
  Starter starter = Starter::fan;
  ShaftMotor shaft_motor = {};
  FanPlan fan = {};
  Ignition ignition = {};
  Sequence sequence = {};
};

/// Fills what the case left open and says so. The engine must have been filled before.
std::vector<Assumed> fill_fallbacks(Setup& setup,
                                    const rig::Parts& parts,
                                    const rig::Coefficients& models,
                                    const Coefficients& c);

/// Of the running engine: the case's, else what passes the inlet's throat [kg/s].
[[nodiscard]] double running_airflow(const rig::Parts& parts, const rig::Coefficients& models);

/// Keys that nothing can stand in for and that are still unset: empty after a complete case.
[[nodiscard]] std::vector<std::string> missing(const Setup& setup);

/// Sentences on values that cannot be true together, after fill_fallbacks.
[[nodiscard]] std::vector<std::string> contradictions(const Setup& setup,
                                                      const rig::Parts& parts,
                                                      const FuelCoefficients& fuels);

}  // namespace windgap::start

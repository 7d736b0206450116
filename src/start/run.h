#pragma once

#include <string_view>
#include <vector>

#include "start/bench.h"

/// One start attempt in time (models/start.md, "The run"): the bench integrated with an adaptive
/// step, every event located on the dense output.
namespace windgap::start {

enum class EventKind {
  fan_on,       ///< or the shaft motor
  rotor_turns,  ///< broke away
  purge_done,   ///< enough volume changes, and blown for long enough
  fuel_on,      ///< and the igniter
  light_off,
  changeover,       ///< gas gives way to the main fuel
  hottest_gas,      ///< behind the burner
  self_sustaining,  ///< net torque positive with the fan off
  fan_off_allowed,  ///< beyond it by the speed margin
  starter_lets_go,  ///< clutch of a shaft motor
  fan_off,
  idle_reached,
  ended  ///< did not catch: why is in `reason`
};

/// How the attempt ended. Words of all outputs: `name`.
enum class Reason {
  caught,
  does_not_turn,  ///< what turns it does not break it loose from rest
  no_spark,       ///< the igniter does not light this mixture: why is in the setup's `ignition`
  no_light_too_lean,
  no_light_too_rich,
  no_light_too_fast,    ///< air past the flame holder
  no_light_overloaded,  ///< burner too small for the air at this pressure
  blew_out_lean,
  blew_out_fast,
  blew_out_overloaded,
  too_rich,
  hung,            ///< stopped gaining speed below idle
  never_sustains,  ///< what blows carries it past idle, but alone it would not turn on
  idle_too_low,    ///< alone at idle it loses speed
  overspeed,       ///< beyond design speed
  gas_temperature_limit,
  pack_sagged,
  pack_empty,
  winding_too_hot,
  fan_off_too_early,
  motor_let_go_early,  ///< a shaft motor, before there was fuel
  time_limit,
  solver_failed
};

[[nodiscard]] std::string_view name(EventKind kind);
[[nodiscard]] std::string_view name(Reason reason);

struct Sample {
  double time = unset;  ///< since the fan was switched on [s]
  State state;
  Reading reading;
};

struct Event {
  EventKind kind = EventKind::ended;
  Sample sample;
};

/// Energies since the start [J].
struct EnergyBalance {
  Powers energies;
  double rotor = 0.0;     ///< kinetic
  double walls = 0.0;     ///< stored in flame tube and housing
  double films = 0.0;     ///< stored in oil films
  double missing = 0.0;   ///< in - out - stored
  double relative = 0.0;  ///< missing over the largest of the terms [-]
};

struct Run {
  bool caught = false;
  Reason reason = Reason::solver_failed;
  double stand_off = unset;              ///< [m]
  std::vector<Event> events;             ///< in time order
  std::vector<Sample> samples;           ///< at equal intervals, and at the end
  double self_sustaining_speed = unset;  ///< reached [rad/s]; unset: not reached
  double hottest_gas = unset;            ///< behind the burner [K]; unset: never lit
  double change_time = unset;            ///< fan on to the last volume change asked for [s]
  double purge_time = unset;             ///< fan on to the end of the purge [s]
  double volume_flow = unset;            ///< that purges, when the fuel comes on [m^3/s]
  double new_purge_time = unset;         ///< before a next attempt, at that flow [s]
  double unburnt_fuel = 0.0;             ///< blown through or pooled before light-off [kg]
  double fuel_used = 0.0;                ///< [kg]
  EnergyBalance energy;
  bool surged = false;
  bool choked = false;
  int steps = 0;
  long evaluations = 0;
};

struct RunOptions {
  double sample_interval = 0.05;  ///< [s]
  double tolerance = 1e-6;        ///< of a step, relative
  double longest_step = 0.5;      ///< [s]
  int most_steps = 20000;
};

/// Never throws for physical reasons and never hangs: steps and time are bounded.
[[nodiscard]] Run run(Bench& bench, const RunOptions& options = {});

}  // namespace windgap::start
